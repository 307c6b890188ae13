// places.ts - the readings that the ledger has of one stop, or of the widths of one set-up's blocks.
import { get, type Reply } from "../api";
import type { Light } from "./model";

export interface ReadingPlace {
  setup: string;
  stop: number | null;
  width: number | null;
  verdict: string;
  reason: string;
  readings: { id: number; value_mm: number; block: number | null; wood: string }[];
  leaves: { id: number; thickness_mm: number }[];
  says: string;
  light: Light;
}

interface ReadingsAnswer {
  stops: ReadingPlace[];
}

//   stop  from 1; 0: widths
export async function askPlaces(batch: string, setup: string, stop: number, signal?: AbortSignal): Promise<Reply<ReadingPlace[]>> {
  const reply = await get<ReadingsAnswer>("/api/readings", { batch, setup, stop: stop || null }, signal);
  if (!reply.ok) return reply;
  const own = (p: ReadingPlace): boolean => p.setup === setup && (stop === 0 ? p.width !== null : p.stop === stop);
  return { ok: true, value: reply.value.stops.filter(own) };
}

// The newest leaf under a stop; 0: none.
export function newestLeaf(places: readonly ReadingPlace[]): number {
  return Math.max(0, ...places.flatMap((p) => p.leaves.map((l) => l.id)));
}

const WORSE: Light[] = ["stop", "watch", "go", "unknown"];

// One light for all of them: the worst.
export function lightOf(places: readonly ReadingPlace[]): { light: Light; says: string } {
  const seen = places
    .filter((p) => p.readings.length > 0)
    .map((p) => ({ light: p.light, says: p.says }));
  const worst = WORSE.map((l) => seen.find((s) => s.light === l)).find((s) => s !== undefined);
  return worst ?? { light: "unknown", says: "Measure a block and keep the reading." };
}
