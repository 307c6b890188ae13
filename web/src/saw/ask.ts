// ask.ts - the calls about set-ups that more than one place makes.
import { get, post, type Reply } from "../api";
import type { Alignment, Correction, CutDrawing, SetUp, SetUps, Truing } from "./model";

// Every set-up with its number and full name, also where the answer has only its shape.
function named(answer: SetUps): SetUps {
  const setups = answer.setups.map((s, i): SetUp => {
    const name = s.name ?? (s.hand ? `${s.shape}, ${s.hand}-handed` : s.shape);
    return { ...s, number: s.number ?? i + 1, name };
  });
  return { ...answer, leaves: answer.leaves ?? [], cautions: answer.cautions ?? [], setups };
}

export async function askSetUps(batch: string, signal?: AbortSignal): Promise<Reply<SetUps>> {
  const reply = await get<SetUps>("/api/setups", { batch }, signal);
  return reply.ok ? { ok: true, value: named(reply.value) } : reply;
}

export function askDrawing(batch: string, setup: string, cut: number, signal?: AbortSignal): Promise<Reply<CutDrawing>> {
  return get<CutDrawing>("/api/setups/drawing", { batch, setup, cut }, signal);
}

export interface CorrectionAsked {
  batch: string;
  setup: string;
  stop: number; // from 1
  measured: string[]; // with units; empty: the ledger's readings
  keep: boolean;
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

export function askAlignment(batch: string, readings: TruingReading[], keep: boolean, note = ""): Promise<Reply<Alignment>> {
  return post<Alignment>("/api/align", { batch, readings, keep, note });
}
