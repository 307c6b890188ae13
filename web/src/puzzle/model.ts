// model.ts - what the program answers about puzzles, as it comes over the wire. Lengths are lattice units, z up.
import type { MeshData } from "../view/stage";

export type Vec3 = [number, number, number];

export interface BlockBody {
  shape: string;
  hand: "left" | "right" | null;
  wood: string | null;
  mesh: MeshData;
  middle: Vec3;
}

export interface Joint {
  between: [number, number];
  area_mm2: number | null;
  area_units: number;
  middle: Vec3;
  normal: Vec3; // from the first block to the second
}

export interface PieceBody {
  name: string;
  of: string; // the piece of the design file
  made: number;
  copy: number;
  mesh: MeshData;
  middle: Vec3;
  woods: string[];
  blocks: BlockBody[];
  joints: Joint[];
}

export interface Step {
  moves: string[];
  from: string[]; // the pieces held
  also?: { moves: string[]; direction: Vec3 }[]; // further groups that move at the same time
  direction: Vec3;
  distance: number | string; // "free": off and away
  hands: number;
  grips: string[];
  down: Vec3 | null;
  falls: string[];
  like: number | null;
  mirrored: boolean;
  before: Vec3[]; // of each piece
  after: Vec3[];
  says: string;
}

export interface Assemblies {
  count: number;
  complete: boolean;
}

export interface PuzzleReply {
  file: string;
  design: string;
  family: string;
  draft?: boolean;
  unit_mm: number | null;
  goes_together: boolean | null; // null: not known yet, the search stopped early
  stopped_early?: boolean;
  closed: boolean; // false: no assembly is known, the pieces lie side by side
  verdict: string;
  says: string[];
  assemblies: Assemblies | null;
  pieces: PieceBody[];
  steps: Step[];
  holds: { between: [number, number]; area_units: number; area_mm2?: number | null; frees?: boolean | null }[];
  goal: { cells: number } | null;
  lightness?: Record<string, number>;
}

export interface CheckResult {
  assemblies: Assemblies & { checked?: number; reachable?: number };
  comes_apart: boolean | null;
  verdict: string; // "found", "none" (proven) or "stopped"
  take_apart: { moves_to_first: number; moves_total: number; hands: number } | null;
  steps: unknown[];
  turning?: { says: string } | null;
}

// ---- a piece that is built

export interface BlockAsked {
  shape: string;
  hand?: "left" | "right" | null;
  on?: number | null; // counts from 1
  face?: string | null;
  turn?: number | null;
  at?: Vec3 | null; // as a file may have it
}

export interface CatalogueBlock {
  shape: string;
  hand: "left" | "right" | null;
  cells: number;
  faces: number;
  mesh: MeshData;
  can_be_sawn: boolean;
  why_not: string;
}

export interface DesignPiece {
  name: string;
  copies: number;
  mirrored_copies: number;
  optional: boolean;
  keep_blocks: boolean;
  datum: string[];
  cells: number;
  blocks: BlockAsked[] | null;
  handed: boolean;
  mesh: MeshData;
}

export interface DesignReply {
  file: string;
  version: string;
  name: string;
  family: string;
  goal: {
    cells: number;
    says: string | null;
    given: boolean;
    solid?: string | null; // its name, if it is a named one
    size?: number | null;
    mesh: MeshData | null;
  } | null;
  cells_needed: number;
  cells_of_pieces: number;
  cells_left: number;
  pieces: DesignPiece[];
}

export interface GluedFace {
  face: string; // its outward normal
  polygon: Vec3[];
  free: boolean;
  area_mm2: number | null;
}

export interface Warning {
  code: string;
  block: number | null;
  say: string;
}

export interface GlueReply {
  cells: number;
  handed: boolean;
  mesh: MeshData;
  blocks: { shape: string; hand: "left" | "right" | null; mesh: MeshData; faces: GluedFace[] }[];
  joints: { between: [number, number]; area_units: number; area_mm2: number | null; weak: boolean; says: string }[];
  goal: { cells: number; others: number; here: number; left: number } | null;
  fits_goal: boolean | null;
  warnings: Warning[];
}

export interface GlueWay {
  shape: string;
  hand: "left" | "right" | null;
  turn: number;
  of: number;
  mesh: MeshData;
  joint_area_units: number;
  joint_area_mm2: number | null;
  cells: number;
  can_be_sawn: boolean;
  left: number | null;
  fits_goal: boolean | null;
  says: string;
}
