// alignment.ts - what the readings say about the saw: each error, its leaf, and what stays hidden.
import { h, table } from "../dom";
import type { Alignment, TruingError } from "./model";
import { leavesText } from "./words";

const ADVICE: Record<string, string> = {
  leave: "leave it",
  "no lever": "the shop file names no place for a leaf",
  unseen: "not seen by these readings",
};

function degrees(value: number | null): string {
  return value === null ? "" : `${value >= 0 ? "+" : "\u2212"}${Math.abs(value).toFixed(4)}\u00b0`;
}

function doing(e: TruingError): HTMLElement {
  if (e.advice !== "leaf") return h("span", {}, ADVICE[e.advice] ?? e.advice);
  return h("span", {}, h("b", {}, leavesText(e.leaves_mm)), ` ${e.at}`);
}

export function alignmentSheet(a: Alignment): HTMLElement {
  const hidden = a.errors.filter((e) => !e.seen).map((e) => e.error);
  return h("section", { class: "sheet", "aria-label": "advice" },
    a.contradict && h("p", { class: "problem" }, "These readings contradict each other: look again before anything is changed. In full, below, it says which first."),
    table("What to do", [
      { head: "Error", cell: (e) => e.error },
      { head: "Off by", number: true, cell: (e) => degrees(e.deg) },
      { head: "u", number: true, cell: (e) => degrees(e.u_deg).replace("+", "") },
      { head: "What to do", cell: doing },
      { head: "Left then", number: true, cell: (e) => (e.advice === "leaf" ? degrees(e.remaining_deg) : "") },
    ], a.errors),
    hidden.length > 0 && h("p", { class: "warning" }, `Stays hidden: ${hidden.join(", ")}.`),
    a.next && h("p", {}, "The next reading that tells most: ", h("b", {}, a.next.reading), a.next.shows_more ? "; it shows what is unseen now." : "."),
    a.kept && h("p", { class: "good" }, "Written into the ledger: the next plan stands on it."),
    a.report && h("details", {}, h("summary", {}, "In full"), h("pre", {}, a.report)));
}
