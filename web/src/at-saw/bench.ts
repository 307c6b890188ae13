// bench.ts - what the faces at the saw share: which set-up, which stop, which cut, and how to change them.
import type { SetUp, SetUps, Step } from "../saw/model";

export type FaceId = "stop" | "cut" | "measure";

export interface Bench {
  batch: string;
  data: SetUps;
  setup: SetUp;
  stop: number; // from 1
  step: number; // of those at the saw, from 0
  face: FaceId;
  widths: boolean; // measured are the stick's own sides, not across flats
  leaves: number[]; // put under the stop so far, as the ledger knows
  newest_leaf: number; // its entry; 0: none
  turn(to: Partial<Pick<Bench, "stop" | "step" | "face" | "widths">>): void; // draws anew
}

// Test pieces and cuts, in order; setting the stops has a face of its own.
export function sawSteps(setup: SetUp): Step[] {
  return setup.steps.filter((s) => s.does !== "stop");
}
