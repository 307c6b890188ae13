// puzzle-fit.ts - everything about the fit of one puzzle.
import { h } from "../dom";
import { contributionBars } from "./bars";
import type { Asked, BindingFit, FreeFit, PuzzleFit } from "./model";
import { adviceTable, monthTable, neededTable, slidingTable, tightTable } from "./tables";
import { triedBox, type Standing } from "./tried-box";
import { mm, MONTHS, percentText } from "./words";
import { yearChart } from "./year-chart";

export interface Drawn {
  element: HTMLElement;
  undo: () => void;
}

function widestText(fit: PuzzleFit): string {
  return fit.widest_seen_mm
    ? `Pushed together as well as it goes, the widest joint seen from outside is ${mm(fit.widest_seen_mm.median)} in the ` +
        `middle puzzle, at most ${mm(fit.widest_seen_mm.p95)} in nineteen of twenty.`
    : "No joint can be seen from outside.";
}

function headText(fit: BindingFit): string {
  const { as_planned: p } = fit;
  return `As planned, ${percentText(p.closes.share)} close by hand. The one in the middle has ${mm(p.play_mm.median)} of play; ` +
    `nine in ten have ${mm(p.play_mm.p05)} to ${mm(p.play_mm.p95)}.`;
}

function freeFit(fit: FreeFit): Drawn {
  return {
    undo: () => undefined,
    element: h(
      "div",
      {},
      h("p", { class: "good" }, "Its contacts cannot jam: whatever is off, all pieces can move apart a little at once, so it always goes " +
        "together, and there is no play to set. What is off shows as open joints instead."),
      h("p", {}, widestText(fit)),
      slidingTable(fit.sliding),
    ),
  };
}

function yearPart(fit: BindingFit, asked: Asked): Drawn | null {
  if (fit.months.length === 0) return null;
  const by = [...fit.months].sort((a, b) => a.play_mm - b.play_mm);
  const tightest = by[0]!;
  const loosest = by.at(-1)!;
  const month = (m: number): string => MONTHS[m - 1] ?? "";
  const chart = yearChart(fit.months, asked);
  return {
    undo: chart.undo,
    element: h(
      "div",
      {},
      h("p", {}, `Where it will live it is tightest at the end of ${month(tightest.month)} (${mm(tightest.play_mm)} in the middle puzzle, ` +
        `${percentText(tightest.closes.share)} close) and loosest at the end of ${month(loosest.month)} (${mm(loosest.play_mm)}).`),
      chart.element,
      h("p", { class: "key" }, h("span", { class: "line advised solid" }, "middle puzzle"), h("span", { class: "line advised" }, "1 in 20 is below"),
        h("span", { class: "sample asked" }, "asked for"), h("span", { class: "sample jams" }, "does not close")),
      h("details", {}, h("summary", {}, "The year as a table"), monthTable(fit.months)),
      h("p", { class: "small" }, `With the advice; glued at ${fit.moisture_at_making_percent?.toFixed(1) ?? "?"} % of moisture; the wood lags ${fit.lag_days ?? "?"} days behind the air.`),
    ),
  };
}

export function puzzleFit(batch: string, index: number, fit: PuzzleFit, asked: Asked, standing: Standing): Drawn {
  if (!fit.binds) return freeFit(fit);
  const box = triedBox(batch, index, fit, asked, standing);
  const year = yearPart(fit, asked);
  return {
    undo: () => {
      box.undo();
      year?.undo();
    },
    element: h(
      "div",
      { class: "fit-of" },
      h("p", {}, headText(fit)),
      h("div", { class: "sheet" }, h("h3", {}, "Play"), box.element),
      h("div", { class: "sheet" }, h("h3", {}, "Advice"), adviceTable(fit), neededTable(fit)),
      h("div", { class: "sheet" }, h("h3", {}, "What makes it uncertain"), contributionBars(fit)),
      year ? h("div", { class: "sheet" }, h("h3", {}, "Over the year"), year.element)
        : h("p", { class: "small" }, "With [customer] in the batch file - the air where the puzzle will live - its year is told here."),
      h("div", { class: "sheet" }, h("h3", {}, "Contacts and joints"), h("p", {}, widestText(fit)), tightTable(fit)),
      h("div", { class: "sheet" }, h("h3", {}, "Sliding"), slidingTable(fit.sliding)),
    ),
  };
}
