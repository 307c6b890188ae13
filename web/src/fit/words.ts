// words.ts - shares and months as they are written on the page.
import { current } from "../state";
import { smallText } from "../units";
import type { Bars, Share } from "./model";

export const mm = (length: number): string => smallText(length, current().units);

export function percentText(share: number): string {
  const percent = 100 * share;
  if (share < 1 && percent > 99.9) return "over 99.9 %";
  if (share > 0 && percent < 0.1) return "under 0.1 %";
  return `${percent.toFixed(percent < 99.95 && percent > 0 ? 1 : 0)} %`;
}

export function shareText(s: Share): string {
  return s.u > 0 ? `${percentText(s.share)} (u = ${(100 * s.u).toFixed(2)} %)` : percentText(s.share);
}

export const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

// Shares of puzzles in each bar, so that runs of different size compare.
export function sharesOf(bars: Bars): { from: number; to: number; share: number }[] {
  const all = bars.count.reduce((sum, n) => sum + n, 0) || 1;
  return bars.count.map((n, k) => ({
    from: bars.from_mm + k * bars.width_mm, to: bars.from_mm + (k + 1) * bars.width_mm, share: n / all,
  }));
}
