// outline.ts - histograms as one outline each, on one axis: what a chart of lines can draw.
import type { Bars } from "./model";
import { sharesOf } from "./words";

// The corners of a histogram: height is the share of the puzzles per mm, so that bars of different widths compare.
export function corners(bars: Bars): [x: number, y: number][] {
  const out: [number, number][] = [];
  const parts = sharesOf(bars);
  const first = parts[0];
  const last = parts.at(-1);
  if (!first || !last) return out;
  out.push([first.from, 0]);
  for (const p of parts) {
    const high = p.share / bars.width_mm;
    out.push([p.from, high], [p.to, high]);
  }
  out.push([last.to, 0]);
  return out;
}

// Several outlines over one list of x, in which a jump stands as the same x twice: null where an outline is not.
//   returns  [xs, ys of the first, ys of the second, ...], xs ascending
export function joined(outlines: readonly (readonly [number, number][])[]): [number[], ...(number | null)[][]] {
  const all = outlines.flatMap((outline, k) => outline.map(([x, y], i) => ({ x, y, k, i })));
  all.sort((a, b) => a.x - b.x || a.k - b.k || a.i - b.i);
  const xs = all.map((p) => p.x);
  const ys = outlines.map((_, k) => all.map((p) => (p.k === k ? p.y : null)));
  return [xs, ...ys];
}

// The ends of an axis that shows them all; a mark that lies far off would squeeze the outlines to nothing.
export function reach(outlines: readonly (readonly [number, number][])[], marks: readonly number[]): [number, number] {
  const xs = outlines.flatMap((o) => o.map(([x]) => x));
  let low = Math.min(...xs);
  let high = Math.max(...xs);
  const span = high - low;
  for (const m of marks)
    if (m > low - span && m < high + span) {
      low = Math.min(low, m);
      high = Math.max(high, m);
    }
  return [low, high];
}
