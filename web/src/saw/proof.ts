// proof.ts - the test block of a stop: what it should measure, which leaf for what is measured, what the doubt is made of.
import { h, table } from "../dom";
import { current } from "../state";
import { lengthText, smallText } from "../units";
import type { Budget, BudgetLine, LeafRow, Stop, Test } from "./model";
import { contactText, leavesText, sumOf } from "./words";

const SHOWN_FROM = 0.01; // share of the budget; the lines below it stand together

function percent(share: number): string {
  return `${(100 * share).toFixed(share > 0 && share < 0.095 ? 1 : 0)} %`;
}

export function stackTable(stops: readonly Stop[]): HTMLElement {
  const { units } = current();
  return table("Stops", [
    { head: "Stop", cell: ({ i, s }) => `${i + 1}: ${contactText(s)}` },
    { head: "Gauge blocks", cell: ({ s }) => sumOf(s.stack) },
    { head: "Together", number: true, cell: ({ s }) => h("b", {}, lengthText(s.stack_total_mm, units, 4)) },
    { head: "From the blade plane", number: true, cell: ({ s }) => lengthText(s.distance_mm, units, 3) },
    { head: "Stands off by", number: true, cell: ({ s }) => `${smallText(s.stack_error_mm, units, 4)}, u ${smallText(s.u_mm, units, 4)}` },
  ], stops.map((s, i) => ({ i, s })));
}

function figure(label: string, text: string, more = ""): HTMLElement {
  return h("div", { class: "fact" }, h("dt", {}, label), h("dd", {}, h("b", { class: "figure" }, text), more && h("small", {}, more)));
}

export function testFigures(test: Test): HTMLElement {
  const { units } = current();
  return h("div", {},
    h("dl", { class: "facts" },
      figure("Wanted across flats", lengthText(test.across_flats_mm, units, 3), `\u00b1 ${smallText(test.tolerance_mm, units)}`),
      figure("Expected with this stack", lengthText(test.expected_mm, units, 3), `u = ${smallText(test.budget.u_mm, units)}`),
      figure("Leave it within", `\u00b1 ${smallText(test.leave_it_mm, units)}`, `one reading: u = ${smallText(test.u_reading_mm, units)}`)),
    h("p", {}, `${test.says[0]?.toUpperCase() ?? ""}${test.says.slice(1)}. `, test.correction_says));
}

function adviceOf(row: LeafRow): string {
  if (row.advice === "shim") return leavesText(row.leaves);
  if (row.advice === "leave") return "leave it";
  if (row.advice === "remake") return "set it anew";
  return row.advice;
}

export function leafTable(stop: number, rows: readonly LeafRow[]): HTMLElement {
  const { units } = current();
  return h("div", { class: "leaf-table" }, table(`Stop ${stop}: which leaf, between stop and back stop`, [
    { head: "Measured from", number: true, cell: (r) => lengthText(r.from_mm, units === "fraction" ? "inch" : units, 3) },
    { head: "to", number: true, cell: (r) => lengthText(r.to_mm, units === "fraction" ? "inch" : units, 3) },
    { head: "What to do", cell: (r) => adviceOf(r) },
  ], rows));
}

function bar(share: number): HTMLElement {
  return h("span", { class: "bar-track", "aria-hidden": "true" }, h("span", { class: "bar-fill", style: `width: ${(100 * share).toFixed(1)}%` }));
}

export function budgetTable(budget: Budget): HTMLElement {
  const { units } = current();
  const lines = [...budget.lines].sort((a, b) => b.share - a.share);
  const large = lines.filter((l) => l.share >= SHOWN_FROM);
  const small = lines.slice(large.length);
  const rest = h("details", {}, h("summary", {}, `${small.length} smaller ones`),
    h("ul", {}, small.map((l) => h("li", {}, `${l.name}: ${percent(l.share)}, ${l.source}`))));
  return h("div", { class: "budget" },
    table<BudgetLine>(`What one reading is uncertain by: together u = ${smallText(budget.u_mm, units)}`, [
      { head: "Cause", cell: (l) => l.name },
      { head: "Share", cell: (l) => h("span", { class: "share" }, bar(l.share), percent(l.share)) },
      { head: "By itself", number: true, cell: (l) => smallText(Math.abs(l.contribution_mm), units, 4) },
      { head: "Known from", cell: (l) => l.source },
    ], large),
    small.length > 0 && rest,
    budget.sampled && budget.bends && h("p", { class: budget.sampled.agrees_with_budget ? null : "warning" },
      `Whole saws drawn: ${lengthText(budget.sampled.low_mm, units, 3)} to ${lengthText(budget.sampled.high_mm, units, 3)} (95 %). `,
      !budget.sampled.agrees_with_budget && "The model bends here: go by what was drawn."));
}
