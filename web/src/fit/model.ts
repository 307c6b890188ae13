// model.ts - the fit as the program tells it: docs/api.yaml, section "fit", and docs/plan-json.md.

export interface Share {
  share: number;
  u: number;
}
export interface Play {
  median: number;
  p05: number;
  p95: number;
}
export interface Bars {
  from_mm: number;
  width_mm: number;
  count: number[];
}
export interface Spread {
  play_mm: Play;
  closes: Share;
  within_asked: Share;
  whole_batch_closes: Share;
  bars: Bars;
}
// What is told of a spread that was only tried.
export type Tried = Omit<Spread, "whole_batch_closes"> & { samples: number };

export interface Size {
  name: string;
  set_up: string | null;
  stop: number | null;
  play_per_mm: number;
  least_mm: number;
  most_mm: number;
  step_mm: number;
  advised_mm: number;
}

export interface Month {
  month: number;
  play_mm: number;
  p05_mm: number;
  closes: Share;
  air_percent: number;
  wood_percent: number;
}

export interface SlidingStep {
  step: number;
  binds: boolean;
  places: number;
  play_mm?: { median: number; p05: number };
  slides?: Share;
  tightest_after_units?: number;
}

interface AnyFit {
  puzzle: string;
  widest_seen_mm: { median: number; p95: number } | null;
  sliding: SlidingStep[];
}
export interface FreeFit extends AnyFit {
  binds: false;
  play_mm: null;
  closes: 1;
}
export interface BindingFit extends AnyFit {
  binds: true;
  play_mm: Play;
  closes: number;
  as_planned: Spread;
  contributions: { source: string; share: number; with_others: number; u: number }[];
  together: number;
  sizes: Size[];
  advice_verdict: "found" | "sticks too" | "out of reach" | "stopped" | "never binds";
  advice: { stop: string; allowance_mm: number; set_up: string | null; number: number | null }[];
  as_advised: Spread;
  needed_reachable: boolean;
  needed: { setup: string; tolerance_mm: number }[];
  needed_closes: Share;
  tight: { contact: string; gap_mm: number; force: number; force_in_many: number }[];
  months: Month[];
  moisture_at_making_percent?: number;
  lag_days?: number;
  samples: number;
}
export type PuzzleFit = BindingFit | FreeFit;

export interface Asked {
  play_mm: number;
  least_mm: number;
  most_mm: number;
  closes_from_mm: number;
  chance: number;
}

export interface Fit {
  ready: boolean;
  complete?: boolean; // false: stopped before all puzzles were done
  of?: number; // puzzles of the batch
  asked?: Asked;
  stops_read?: { set_up: string; stop: number; readings: number; error_mm: number; u_mm: number }[];
  puzzles?: PuzzleFit[];
}

export interface FitItem {
  index: number;
  of: number;
  asked: Asked;
  puzzle: PuzzleFit;
}

export interface SortedBlock {
  set_up: string;
  wood: string;
  number: number | null;
  reading: number | null;
  off_mm: number | null;
  width_1_off_mm: number | null;
  width_2_off_mm: number | null;
}
export interface Sorting {
  proven: boolean;
  worst_play_mm: number;
  bound_mm: number;
  as_they_come_mm: number;
  without_wood: number;
  without_number: number;
  puzzles: {
    design: string;
    copy: number;
    play_mm: number;
    places: (SortedBlock & { piece: string; block: number; width_1_against: number[]; width_2_against: number[] })[];
  }[];
  left: SortedBlock[];
}
