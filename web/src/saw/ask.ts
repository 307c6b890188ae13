// ask.ts - the calls about set-ups that more than one place makes.
import { get, post, type Reply } from "../api";
import type { Alignment, Correction, CutDrawing, SetUps, Truing } from "./model";

export function askSetUps(batch: string, signal?: AbortSignal): Promise<Reply<SetUps>> {
  return get<SetUps>("/api/setups", { batch }, signal);
}

//   step  of the set-up, from 1
export function askDrawing(batch: string, setup: string, step: number, signal?: AbortSignal): Promise<Reply<CutDrawing>> {
  return get<CutDrawing>("/api/setups/drawing", { batch, setup, step }, signal);
}

export interface CorrectionAsked {
  batch: string;
  setup: string;
  stop: number; // from 1
  measured: string[]; // with units; empty: the ledger's readings
  keep: boolean;
  after?: number; // the newest leaf under the stop that was seen: what is sent twice is then not kept twice
  by?: string;
  note?: string;
}

export function askCorrection(asked: CorrectionAsked): Promise<Reply<Correction>> {
  return post<Correction>("/api/correct", asked);
}

export function askTruing(batch: string, signal?: AbortSignal): Promise<Reply<Truing>> {
  return get<Truing>("/api/truing", { batch }, signal);
}

export type TruingReading = Record<string, string | number>;

//   after  the newest truing in the ledger that was seen
export function askAlignment(batch: string, readings: TruingReading[], keep: boolean, after: number): Promise<Reply<Alignment>> {
  return post<Alignment>("/api/align", { batch, readings, keep, ...(keep ? { after } : {}) });
}
