// points.ts - the readings of one size in the order of writing, and what each is drawn as.
import type { Reading, ReadSize, Signal } from "./model";

// counts: part of the chart; before: written before the last leaf was put in
export type Standing = "counts" | "withdrawn" | "before";

export interface Point {
  reading: Reading;
  x: number; // from 1, in the order of writing
  number: number | null; // among those that count, from 1: as the signals name it
  mm: number; // of one that was withdrawn, what it was before
  standing: Standing;
  outside: boolean;
  corrected: boolean;
  signals: Signal[];
}

export interface LeafMark {
  x: number; // between two readings
  thickness_mm: number;
}

export function isWithdrawn(r: Reading): boolean {
  return r.value_mm === null;
}

// What it says now; of one that was withdrawn, what it said last.
export function lastValue(r: Reading): number {
  if (r.value_mm !== null) return r.value_mm;
  const said = r.changes.map((c) => c.value_mm).filter((v): v is number => v !== null);
  return said.at(-1) ?? r.first_value_mm;
}

export function wasCorrected(r: Reading): boolean {
  return r.changes.some((c) => c.value_mm !== null) && lastValue(r) !== r.first_value_mm;
}

// The written tolerance holds its ends; the last binary digit of a decimal fraction is no reason to be outside.
export function isOutside(mm: number, size: Pick<ReadSize, "target_mm" | "tolerance_mm">): boolean {
  return Math.abs(mm - size.target_mm) > size.tolerance_mm * (1 + 1e-9);
}

export function pointsOf(size: ReadSize): Point[] {
  const place = new Map(size.readings.map((r, i) => [r.id, i]));
  const all = [...size.readings, ...size.not_counted].sort((a, b) => a.id - b.id);
  return all.map((reading, i) => {
    const at = place.get(reading.id);
    const mm = lastValue(reading);
    return {
      reading,
      x: i + 1,
      number: at === undefined ? null : at + 1,
      mm,
      standing: at !== undefined ? "counts" : isWithdrawn(reading) ? "withdrawn" : "before",
      outside: at !== undefined && isOutside(mm, size),
      corrected: wasCorrected(reading),
      signals: at === undefined ? [] : size.signals.filter((s) => s.first <= at && at <= s.last),
    };
  });
}

// Entries of the ledger are numbered in the order of writing, leaves and readings alike.
export function leafMarks(size: ReadSize, points: readonly Point[]): LeafMark[] {
  return size.leaves.map((leaf) => {
    const after = points.find((p) => p.reading.id > leaf.id);
    return { x: (after?.x ?? points.length + 1) - 0.5, thickness_mm: leaf.thickness_mm };
  });
}

// The newest of them, numbered as before.
export function newest(points: readonly Point[], most: number): Point[] {
  return points.slice(Math.max(0, points.length - most));
}

// Labels beside lines that may lie close together: moved apart by `least`, in their order, and kept from 0 to `end`.
export function spread(at: readonly number[], least: number, end: number): number[] {
  const order = at.map((_, i) => i).sort((a, b) => at[a]! - at[b]!);
  const out = [...at];
  let lowest = -Infinity;
  for (const i of order) lowest = out[i] = Math.max(out[i]!, lowest + least, 0);
  let highest = end;
  for (const i of [...order].reverse()) highest = (out[i] = Math.min(out[i]!, highest)) - least;
  return out;
}
