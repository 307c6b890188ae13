// filter.ts - which readings are looked at, as the address says it: #/ledger/SETUP-ID?stop=1&find=walnut
import type { Place } from "../router";
import type { Reading, ReadSize } from "./model";

export interface Filter {
  setup: string; // "": all
  stop: number | null;
  width: number | null;
  find: string;
}

function whole(text: string | undefined): number | null {
  return text && /^[1-9]\d*$/.test(text) ? Number(text) : null;
}

export function filterOf(place: Pick<Place, "part" | "query">): Filter {
  const setup = place.part;
  const stop = setup ? whole(place.query["stop"]) : null;
  return { setup, stop, width: setup && stop === null ? whole(place.query["width"]) : null, find: place.query["find"] ?? "" };
}

export function placeOf(f: Filter): Partial<Place> {
  const query: Record<string, string> = {};
  if (f.stop !== null) query["stop"] = String(f.stop);
  if (f.width !== null) query["width"] = String(f.width);
  if (f.find) query["find"] = f.find;
  return { view: "ledger", part: f.setup, query };
}

export function isAsked(size: ReadSize, f: Filter): boolean {
  if (f.setup && size.setup !== f.setup) return false;
  if (f.stop !== null) return size.stop === f.stop;
  return f.width === null || size.width === f.width;
}

// Every word stands somewhere in the reading's stick, wood, names, remarks, instrument, or is the number on its block.
export function speaksOf(r: Reading, find: string): boolean {
  const said = [r.stick, r.wood, r.by, r.note, r.instrument, ...r.changes.flatMap((c) => [c.by, c.note])];
  const text = said.join("\n").toLowerCase();
  const words = find.toLowerCase().split(/\s+/).filter(Boolean);
  return words.every((w) => text.includes(w) || String(r.block ?? "") === w);
}
