// events.ts - truings of the saw and leaves put in, in order; readings of set-ups that are gone.
import { h, table } from "../dom";
import { leavesText } from "../saw/words";
import type { Events, LeafDone, Readings, TruingDone } from "./model";
import { angleText, plural, sizeText, timeText } from "./words";

function remark(e: { by: string; note: string; withdrawn: boolean }): string {
  return [e.withdrawn && "withdrawn", e.by && `by ${e.by}`, e.note].filter(Boolean).join("; ");
}

function truingsTable(truings: readonly TruingDone[]): HTMLElement {
  return table<TruingDone>("Truings of the saw: how it stood afterwards, and how well that is known", [
    { head: "When", cell: (t) => timeText(t.at) },
    { head: "Miter", cell: (t) => angleText(t.miter_deg, t.miter_u_deg) },
    { head: "Tilt", cell: (t) => angleText(t.tilt_deg, t.tilt_u_deg) },
    { head: "Roll", cell: (t) => angleText(t.roll_deg, t.roll_u_deg) },
    { head: "Pitch", cell: (t) => angleText(t.pitch_deg, t.pitch_u_deg) },
    { head: "Remark", cell: remark },
  ], truings);
}

function leavesTable(leaves: readonly LeafDone[], nameOf: (setup: string) => string): HTMLElement {
  return table<LeafDone>("Leaves put under a stop: its readings count from then on", [
    { head: "When", cell: (l) => timeText(l.at) },
    { head: "Under", cell: (l) => `${nameOf(l.setup)}, stop ${l.stop}` },
    { head: "Leaf", cell: (l) => leavesText([l.thickness_mm]) },
    { head: "Remark", cell: remark },
  ], leaves);
}

export function eventsBox(events: Events, nameOf: (setup: string) => string): HTMLElement | null {
  if (events.truings.length + events.leaves.length === 0) return null;
  return h("section", { class: "sheet", "aria-label": "Truings and leaves" }, h("h2", {}, "Truings and leaves"),
    events.truings.length > 0 && truingsTable(events.truings), events.leaves.length > 0 && leavesTable(events.leaves, nameOf));
}

export function goneBox(gone: Readings["no_longer_planned"]): HTMLElement | null {
  if (gone.length === 0) return null;
  return h("section", { class: "sheet", "aria-label": "Readings of set-ups that are gone" },
    h("h2", {}, "Of set-ups that the batch no longer has"),
    h("ul", {}, gone.map((g) => h("li", {}, `${g.setup}, ${sizeText(g)}: ${plural(g.readings, "reading")}`))),
    h("p", {}, "They stay in the ledger, and come back here when the batch plans the set-up again."));
}
