// places.ts - the readings that the ledger has of one stop, or of the widths of one set-up's blocks.
import { get, type Reply } from "../api";
import type { Light } from "../saw/model";

export interface ReadingPlace {
  setup: string;
  stop: number | null;
  width: number | null;
  verdict: string;
  reason: string;
  readings: { id: number; value_mm: number; block: number | null; wood: string }[];
  leaves?: { thickness_mm: number }[];
  says?: string;
  light?: Light;
}

interface ReadingsAnswer {
  stops: ReadingPlace[];
}

//   stop  from 1; 0: widths
export function askPlaces(batch: string, setup: string, stop: number, signal: AbortSignal): Promise<Reply<ReadingsAnswer>> {
  return get<ReadingsAnswer>("/api/readings", { batch, setup, ...(stop === 0 ? { width: true } : { stop }) }, signal);
}

const LIGHT_OF: Record<string, Light> = { go_on: "go", check: "watch", stop: "stop" };
const WORSE: Light[] = ["stop", "watch", "go", "unknown"];

// One light for all of them: the worst.
export function lightOf(places: readonly ReadingPlace[]): { light: Light; says: string } {
  const seen = places
    .filter((p) => p.readings.length > 0)
    .map((p) => ({ light: p.light ?? LIGHT_OF[p.verdict] ?? "unknown", says: p.says ?? p.reason }));
  const worst = WORSE.map((l) => seen.find((s) => s.light === l)).find((s) => s !== undefined);
  return worst ?? { light: "unknown", says: "Measure a block and keep the reading." };
}
