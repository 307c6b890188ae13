// model.ts - the answers about set-ups, truing and corrections as they come over the wire. docs/plan-json.md, docs/api.yaml.
import type { MeshData } from "../view/stage";

export type Light = "go" | "watch" | "stop" | "unknown";

export interface Cut {
  end: string;
  pencil: string;
  stop: number; // from 0
  contact: string;
  on: "stick" | "block";
  severs: boolean;
  end_for_end: boolean;
  says: string;
}

export interface Stop {
  face: string;
  contact: string;
  least_contact: string;
  distance_mm: number;
  stack: number[];
  stack_total_mm: number;
  stack_error_mm: number;
  u_mm: number;
  square_stop_mm: number | null;
  says: string; // the stack in words
  setting_says: string; // how it is set
}

export interface BudgetLine {
  name: string;
  u: number;
  unit: string;
  contribution_mm: number;
  share: number;
  source: string;
}

export interface Budget {
  u_mm: number;
  expanded_mm: number;
  coverage: number;
  says: string;
  lines: BudgetLine[];
  bends: boolean;
  sampled: { value_mm: number; u_mm: number; low_mm: number; high_mm: number; agrees_with_budget: boolean } | null;
}

export interface LeafRow {
  from_mm: number;
  to_mm: number;
  advice: string;
  leaves: number[];
  leaves_total_mm: number;
}

export interface Test {
  across_flats_mm: number;
  expected_mm: number;
  tolerance_mm: number;
  u_reading_mm: number;
  leave_it_mm: number;
  says: string;
  correction_says: string;
  budget: Budget;
  shim_table: LeafRow[];
}

// What is done at the saw, in order: stops are set, test pieces cut, blocks cut.
export interface Step {
  does: "stop" | "test piece" | "cut";
  mark: string; // "1", or "T" of a test piece
  stop: number; // from 1
  says: string;
  caution: string; // "" or of a loose block
  cut: number | null; // of the block's program, from 1
  test: number | null; // the stop that this step proves, from 1
  measure_mm: number | null; // this step makes the face that is measured
}

export interface SetUp {
  id: string;
  number: number;
  name: string;
  shape: string;
  hand: string | null;
  blocks: number;
  needed: Record<string, number>;
  spares: Record<string, number>;
  stick_per_block_mm: number;
  cuts: Cut[];
  stops: Stop[];
  tests: Test[];
  start_says: string; // how the stick lies before each block
  stops_say: string; // which stand already, which to leave standing
  widths_say: string; // which pair of sides is which
  cautions: string[];
  steps: Step[];
}

export interface SetUps {
  batch: string;
  batch_name: string;
  stick_mm: number;
  saw: { name: string; value: number; u: number; unit: string; source: string }[];
  setups: SetUp[];
  leaves_mm: number[];
  instrument: string;
  cautions: string[];
}

export interface CutDrawing {
  bodies: { what: string; mesh: MeshData }[];
  labels: { at: [number, number, number]; say: string }[];
  look_at: { low: [number, number, number]; high: [number, number, number] };
  says: string;
  caution: string;
}

export interface Correction {
  setup: string;
  stop: number;
  readings: number;
  mean_mm: number;
  wanted_mm: number;
  expected_mm: number;
  error_mm: number;
  u_mm: number;
  shim_mm: number;
  leaves: number[];
  remaining_mm: number;
  advice: string; // "shim", "leave", "remake", "true the miter first"
  says: string;
  causes: { cause: string; mm: number }[];
  more_readings: number | null;
  stack_mm: number[] | null;
  report: string;
  kept: boolean;
}

export interface TruingError {
  error: string;
  seen: boolean;
  deg: number | null;
  u_deg: number | null;
  advice: string;
  leaves_mm: number[];
  at: string;
  remaining_deg: number | null;
  repeats: number | null;
  says: string;
}

export interface Alignment {
  errors: TruingError[];
  cannot_tell_apart: string[][] | string[];
  next: { reading: string; shows_more: boolean } | null;
  contradict: boolean;
  report: string;
  kept: boolean;
}

// A key that a look at the saw asks for: a length, or one of some words.
export interface Ask {
  key: string;
  kind: string; // "length", "choice", "number"
  says: string;
  choices?: { value: string | number; says: string }[];
  optional: boolean;
}

// A look at the saw as the truing card has it, with the leaves worked out beforehand: `rows` of equal length, each with
// its head first.
export interface Prepared {
  title: string;
  look: string;
  over_mm: number;
  does: string;
  means: string;
  formula: string;
  leave: string;
  leaf_at: string;
  rows: string[][];
}

export interface Truing {
  looks: { id: string; says: string; asks: Ask[] }[];
  known: { name: string; value: number; u: number; unit: string; source: string }[];
  prepared: Prepared[];
  done: { id: number; at: string; by: string; note: string; withdrawn: boolean; miter_deg: number | null; miter_u_deg: number | null }[];
  caution: string;
}
