// tables.ts - advice, tolerances, contacts, the way out, the year: numbers that the charts show, and more.
import { h, table } from "../dom";
import { emptyBox } from "../view/notice";
import type { BindingFit, Bars, Month, SlidingStep } from "./model";
import { MONTHS, mm, percentText, shareText, sharesOf } from "./words";

const HALF_A_MICROMETER = 0.0005;

const VERDICTS: Record<BindingFit["advice_verdict"], string> = {
  found: "Set so, the middle puzzle has the play that is asked for.",
  "sticks too": "Stops alone do not do: the sticks have to be planed to another width, too.",
  "out of reach": "No change of the sizes reaches the play that is asked for.",
  stopped: "The search for allowances did not settle.",
  "never binds": "There is no play to set.",
};

function way(mmAdded: number): string {
  return mmAdded < 0 ? `${mm(-mmAdded)} short` : `${mm(mmAdded)} long`;
}

// The batch file has no place for allowances yet.
export function adviceTable(fit: BindingFit): HTMLElement {
  const rows = fit.advice.filter((a) => Math.abs(a.allowance_mm) >= HALF_A_MICROMETER);
  if (rows.length === 0) return h("p", {}, VERDICTS[fit.advice_verdict], fit.advice_verdict === "found" && " No size has to be changed.");
  return h(
    "div",
    {},
    h("p", {}, VERDICTS[fit.advice_verdict]),
    table("Advice", [
      { head: "size", cell: (a) => a.stop },
      { head: "set it", cell: (a) => way(a.allowance_mm) },
      { head: "in the set-up", cell: (a) => a.set_up ?? "" },
    ], rows),
    h(
      "p",
      { class: "small" },
      "The set-up card of the packet says the same, with what the test block then measures; its stack and the box beside " +
        "it are without the advice, and the batch file cannot keep it yet. A stop that is set short stands nearer to the " +
        "blade: saw unplugged, turn the blade past it by hand first, and follow the machine's manual.",
    ),
  );
}

export function neededTable(fit: BindingFit): HTMLElement {
  const reached = fit.needed_reachable
    ? `With these, ${shareText(fit.needed_closes)} close.`
    : `Not even exact stops do: with them ${shareText(fit.needed_closes)} close.`;
  return h(
    "div",
    {},
    table("How exactly the stops must stand, to either side", [
      { head: "set-up", cell: (n) => n.setup },
      { head: "tolerance", cell: (n) => (n.tolerance_mm >= 0.4995 ? `${mm(0.5)} or more` : `± ${mm(n.tolerance_mm)}`), number: true },
    ], fit.needed),
    h("p", { class: "small" }, `Two standard uncertainties. ${reached}`),
  );
}

export function tightTable(fit: BindingFit): HTMLElement {
  const pressed = fit.tight.filter((t) => t.force > 0);
  const others = fit.tight.length - pressed.length;
  return h(
    "div",
    {},
    table("Contacts that would bind first, in the middle puzzle", [
      { head: "contact", cell: (t) => t.contact },
      { head: "gap", cell: (t) => mm(t.gap_mm), number: true },
      { head: "share of the force", cell: (t) => percentText(t.force), number: true },
      { head: "over many puzzles", cell: (t) => percentText(t.force_in_many), number: true },
    ], pressed),
    others > 0 && h("p", { class: "small" }, `${others} more contacts are not pressed.`),
  );
}

export function slidingTable(steps: readonly SlidingStep[]): HTMLElement {
  if (steps.length === 0) return emptyBox("It has no steps to come apart by.");
  return table("Sliding on the way out, with the advice", [
    { head: "step", cell: (s) => s.step, number: true },
    { head: "middle puzzle", cell: (s) => (s.play_mm ? mm(s.play_mm.median) : "cannot bind"), number: true },
    { head: "1 in 20 is below", cell: (s) => (s.play_mm ? mm(s.play_mm.p05) : ""), number: true },
    { head: "slide by hand", cell: (s) => (s.slides ? shareText(s.slides) : "all"), number: true },
  ], steps);
}

export function monthTable(months: readonly Month[]): HTMLElement {
  return table("Over the year", [
    { head: "end of", cell: (m) => MONTHS[m.month - 1] ?? "" },
    { head: "middle puzzle", cell: (m) => mm(m.play_mm), number: true },
    { head: "1 in 20 is below", cell: (m) => mm(m.p05_mm), number: true },
    { head: "close", cell: (m) => percentText(m.closes.share), number: true },
    { head: "wood", cell: (m) => `${m.wood_percent.toFixed(1)} %`, number: true },
  ], months);
}

// The histograms in numbers.
export function barTable(name: string, bars: Bars): HTMLElement {
  return table(`Play ${name}`, [
    { head: "from", cell: (b) => mm(b.from), number: true },
    { head: "to", cell: (b) => mm(b.to), number: true },
    { head: "of the puzzles", cell: (b) => percentText(b.share), number: true },
  ], sharesOf(bars).filter((b) => b.share > 0));
}
