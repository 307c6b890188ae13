// model.ts - the batch as the program tells it: docs/api.yaml, section "batch".
import type { Problem } from "../api";

export interface WoodCost {
  wood: string;
  blocks: number;
  stick_mm: number;
  in_blocks_mm: number;
  kerf_mm: number;
  spares_mm: number;
  tests_mm: number;
  heads_mm: number;
  left_mm: number;
  stick_cm3: number;
  blocks_cm3: number;
}

export interface PuzzleCost {
  name: string;
  copies: number;
  woods: WoodCost[];
  work: { kind: string; hours: number }[];
  hands_on_hours: number;
  waiting_hours: number;
}

export interface BlocksCut {
  number: number;
  set_up: string;
  name: string;
  blocks: number;
  stick_per_block_mm: number;
  woods: { wood: string; needed: number; spares: number }[];
}

export interface BatchHead {
  file: string;
  name: string;
  shop: string;
  start: string;
  due: string;
  stick_mm: number;
  kerf_mm: number;
  puzzles: {
    name: string;
    copies: number;
    pieces: { name: string; copies: number; woods: string[][] }[];
    like_wood_contacts: number;
  }[];
  blocks: BlocksCut[];
  short: { wood: string; length_mm: number; more: number }[];
  problem: Problem | null;
  cost: PuzzleCost[] | null;
  packet: { name: string; older_than_files: boolean } | null;
}

export interface MiterAlong {
  axis_mm: number;
  upper_mm: number;
  eye_mm: number;
  lower_mm: number;
}

export interface SawnBlock {
  shape: string;
  hand: string | null;
  test: boolean;
  length_mm: number;
  set_up: string;
  number: number;
  near: MiterAlong;
  far: MiterAlong;
}

export interface CutStick {
  number: number;
  wood: string;
  length_mm: number;
  left_mm: number;
  blocks: SawnBlock[];
}

export interface RackRow {
  wood: string;
  length_mm: number;
  milled: boolean;
  on_hand: number;
  used: number;
  left: number;
}

export interface Sticks {
  head_mm: number;
  tail_mm: number;
  sticks: CutStick[];
  woods: { wood: string; used: number; bound: number; proven: boolean; to_mill: number; lightness: number }[];
  used: number;
  bound: number;
  stick_mm: number;
  across_corners_mm: number;
  kerf_mm: number;
  kerf_along_mm: number;
  rack: RackRow[];
}

export interface Stretch {
  work: number;
  task: string;
  kind: string;
  from_s: number;
  to_s: number;
  from: string;
  to: string;
  dries_until: string | null;
}

export interface DayDrying {
  task: string;
  kind: string;
  from_s: number;
  to_s: number;
  until: string;
}

export interface Day {
  date: string;
  weekday: string;
  windows: { from_s: number; to_s: number; from: string; to: string }[];
  work: Stretch[];
  drying: DayDrying[];
}

export interface Week {
  finish: string;
  finish_bound: string;
  proven: boolean;
  days_late: number;
  hands_on_s: number;
  idle_s: number;
  drying_s: number;
  drying_inside_hours_s: number;
  due: string;
  days: Day[];
}

export interface PacketFiles {
  files: { name: string; paper: string | null; pages: number | null }[];
}
