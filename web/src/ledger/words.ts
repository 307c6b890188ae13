// words.ts - readings and lengths in words: for the table, for screen readers, below the chart.
import { smallText, type Units } from "../units";
import type { Light, ReadSize, Reading, Size } from "./model";
import { lastValue, type Point } from "./points";

export const LIGHT_WORDS: Record<Light, string> = { go: "Go on", watch: "Check", stop: "Stop", unknown: "No readings yet" };

// Readings are shown to the micrometer, in inches to the ten-thousandth.
export function readingText(mm: number, units: Units): string {
  return smallText(mm, units, 3);
}

const two = (n: number): string => String(n).padStart(2, "0");

// In the time of this machine: "2031-02-04 18:30".
export function timeText(iso: string): string {
  const t = new Date(iso);
  if (Number.isNaN(t.getTime())) return iso;
  return `${t.getFullYear()}-${two(t.getMonth() + 1)}-${two(t.getDate())} ${two(t.getHours())}:${two(t.getMinutes())}`;
}

//   deg, u  null: that truing did not look at it
export function angleText(deg: number | null, u: number | null): string {
  if (deg === null || u === null) return "not looked at";
  return `${deg.toFixed(3).replace("-", "\u2212")}\u00b0 (u = ${u.toFixed(3)}\u00b0)`;
}

export function sizeText(size: Size): string {
  return size.width !== null ? `width ${size.width}` : `stop ${size.stop ?? 1}`;
}

export function plural(n: number, one: string): string {
  return `${n} ${one}${n === 1 ? "" : "s"}`;
}

// What became of a reading, oldest first: "corrected from 16.020 mm by Rowan (misread)".
export function changesText(r: Reading, units: Units): string[] {
  let before: number | null = r.first_value_mm;
  return r.changes.map((c) => {
    const who = [c.by && ` by ${c.by}`, c.note && ` (${c.note})`].join("");
    const was: number | null = before;
    before = c.value_mm;
    if (c.value_mm === null) return `withdrawn${who}`;
    if (was === null) return `put back as ${readingText(c.value_mm, units)}${who}`;
    return `corrected from ${readingText(was, units)} to ${readingText(c.value_mm, units)}${who}`;
  });
}

// One line that says everything about a point of the chart.
export function pointText(p: Point, units: Units): string {
  const r = p.reading;
  const name = p.number === null ? `entry ${r.id}` : `reading ${p.number}`;
  const state = [
    p.standing === "withdrawn" && "withdrawn, does not count",
    p.standing === "before" && "written before the last leaf, does not count",
    p.outside && "outside the tolerance",
    p.corrected && `corrected, first ${readingText(r.first_value_mm, units)}`,
    p.signals.length > 0 && "part of a signal",
  ];
  const about = [r.block !== null && `block ${r.block}`, r.wood, r.stick && `stick ${r.stick}`, r.by && `by ${r.by}`];
  const text = [readingText(lastValue(r), units), ...state, ...about, timeText(r.taken_at ?? r.at), r.note];
  return `${name}: ${text.filter(Boolean).join("; ")}`;
}

// What the numbers say, for below the chart: only those that there are.
export function factsOf(size: ReadSize, units: Units): [string, string][] {
  const out: [string, string][] = [
    ["wanted", `${readingText(size.target_mm, units)} \u00b1 ${readingText(size.tolerance_mm, units)}`],
    ["readings that count", String(size.readings.length)],
  ];
  if (size.mean !== null) out.push(["mean", readingText(size.mean, units)]);
  if (size.sd !== null) out.push(["spread, one sigma", smallText(size.sd, units, 4)]);
  if (size.limits) out.push(["control limits", `${readingText(size.limits.lower, units)} to ${readingText(size.limits.upper, units)}`]);
  out.push(["outside the tolerance", String(size.outside)]);
  if (size.capability)
    out.push(["Cpk", `${size.capability.cpk.toFixed(2)}${size.capability.enough ? "" : ", of fewer than 20 readings: a hint only"}`]);
  return out;
}
