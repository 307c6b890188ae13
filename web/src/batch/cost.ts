// cost.ts - what one puzzle costs, in wood, hours and waiting, and what the figures count.
import { h, show, table } from "../dom";
import { current } from "../state";
import { lengthText } from "../units";
import type { PuzzleCost } from "./model";
import { hoursText } from "./words";

const mm = (length: number): string => lengthText(length, current().units, 0);
const cm3 = (v: number): string =>
  current().units === "mm" ? `${v.toFixed(0)} cm³` : `${(v / 16.387064).toFixed(1)} cubic in`;

function woodTable(c: PuzzleCost): HTMLElement {
  return table(`Wood for one ${c.name}: length of stick`, [
    { head: "wood", cell: (w) => w.wood },
    { head: "in blocks", cell: (w) => mm(w.in_blocks_mm), number: true },
    { head: "kerf", cell: (w) => mm(w.kerf_mm), number: true },
    { head: "its part of spares", cell: (w) => mm(w.spares_mm), number: true },
    { head: "of test pieces", cell: (w) => mm(w.tests_mm), number: true },
    { head: "of heads", cell: (w) => mm(w.heads_mm), number: true },
    { head: "of what is left", cell: (w) => mm(w.left_mm), number: true },
    { head: "in all", cell: (w) => h("strong", {}, mm(w.stick_mm)), number: true },
    { head: "volume of that", cell: (w) => cm3(w.stick_cm3), number: true },
    { head: "of it in the puzzle", cell: (w) => cm3(w.blocks_cm3), number: true },
  ], c.woods);
}

function workBars(c: PuzzleCost): HTMLElement {
  const most = Math.max(0.01, ...c.work.map((w) => w.hours));
  return h(
    "ul",
    { class: "bars", "aria-label": `Hands-on time for one ${c.name}, by kind of work` },
    c.work.map((w) =>
      h(
        "li",
        {},
        h("span", { class: "bar-name" }, w.kind),
        h("span", { class: "bar-room" }, h("span", { class: `bar-fill kind-${w.kind}`, style: `width:${((100 * w.hours) / most).toFixed(2)}%` })),
        h("span", { class: "bar-says" }, hoursText(w.hours)),
      ),
    ),
  );
}

function puzzleCost(c: PuzzleCost): HTMLElement {
  const length = c.woods.reduce((sum, w) => sum + w.stick_mm, 0);
  return h(
    "div",
    { class: "sheet" },
    h("h3", {}, `One ${c.name}, of ${c.copies}`),
    h(
      "dl",
      { class: "figures" },
      h("div", {}, h("dt", {}, "stick"), h("dd", {}, mm(length))),
      h("div", {}, h("dt", {}, "hands on"), h("dd", {}, hoursText(c.hands_on_hours))),
      h("div", {}, h("dt", {}, "waits for glue and finish"), h("dd", {}, hoursText(c.waiting_hours))),
    ),
    workBars(c),
    woodTable(c),
  );
}

export function drawCost(host: HTMLElement, costs: readonly PuzzleCost[]): void {
  show(
    host,
    h(
      "p",
      { class: "small" },
      "Times its copies, over all puzzles, this is every stick that is used and every task of the weeks. Spares, test " +
        "pieces and ends of sticks are shared out by the blocks that each puzzle needs; set-ups and cutting likewise, " +
        "milling by wood, truing by time at the saw. Opening up and clearing up are not counted. What is left of a " +
        "stick may serve another batch.",
    ),
    costs.map(puzzleCost),
  );
}
