// bench.ts - what the faces at the saw share: which set-up, which stop, which cut, and how to change them.
import type { SetUp, SetUps } from "../saw/model";

export type FaceId = "stop" | "cut" | "measure";

export interface Bench {
  batch: string;
  data: SetUps;
  setup: SetUp;
  stop: number; // from 1
  cut: number; // from 0
  face: FaceId;
  widths: boolean; // measured are the stick's own sides, not across flats
  leaves: number[]; // put under the stop so far, as the ledger knows
  turn(to: Partial<Pick<Bench, "stop" | "cut" | "face" | "widths">>): void; // draws anew
}
