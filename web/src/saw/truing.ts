// truing.ts - looks at the saw are typed in; which error they show, which leaf goes where, what they do not tell.
import { choice, field, h, show, table } from "../dom";
import { angleText, timeText } from "../ledger/words";
import { hashOf } from "../router";
import { current } from "../state";
import { withUnit } from "../units";
import { problemBox } from "../view/notice";
import { askAlignment, askTruing, type TruingReading } from "./ask";
import type { Alignment, Ask, Truing } from "./model";
import { preparedSheet } from "./prepared";
import { knownText } from "./words";
import { alignmentSheet } from "./alignment";

interface Look {
  look: string;
  values: Record<string, string>;
}
// What was typed stays while the page lives: a truing takes a while, and other views are looked at.
const typed = new Map<string, Look[]>();
const PAUSE_MS = 400;

function optionsOf(ask: Ask): { id: string; label: string }[] | null {
  if (!ask.choices) return null;
  return ask.choices.map((c) => ({ id: String(c.value), label: c.says }));
}

// Complete readings only, as the truing file would have them.
function readingsOf(truing: Truing, looks: readonly Look[]): TruingReading[] {
  const out: TruingReading[] = [];
  for (const { look, values } of looks) {
    const asks = truing.looks.find((l) => l.id === look)?.asks ?? [];
    if (asks.some((a) => !a.optional && (values[a.key] ?? "").trim() === "")) continue;
    const reading: TruingReading = { of: look };
    for (const a of asks) {
      const text = (values[a.key] ?? "").trim();
      if (text === "") continue;
      reading[a.key] = a.kind === "length" ? withUnit(text, current().units) : a.kind === "number" ? Number(text) : text;
    }
    out.push(reading);
  }
  return out;
}

export interface OpenTruing {
  redraw(): void;
  undo(): void;
}

export function openTruing(host: HTMLElement, batch: string, truing: Truing): OpenTruing {
  const looks = typed.get(batch) ?? [];
  typed.set(batch, looks);
  const list = h("div", {});
  const known = h("div", {});
  const answer = h("div", { "aria-live": "polite" });
  let timer = 0;
  let call = 0;
  let units = current().units; // in which it is typed

  const ask = async (keep: boolean): Promise<void> => {
    const readings = readingsOf(truing, looks);
    const mine = ++call;
    if (readings.length === 0)
      return show(answer, h("p", { class: "empty" }, "Look at the saw, choose what you looked at, type what you saw. The advice stands here as soon as one reading is whole."));
    const reply = await askAlignment(batch, readings, keep, Math.max(0, ...truing.done.map((d) => d.id)));
    if (mine !== call) return;
    if (!reply.ok) return show(answer, problemBox(reply.problem));
    if (reply.value.kept) return done(reply.value);
    show(answer, alignmentSheet(reply.value), !reply.value.contradict &&
      h("p", {}, "When the leaves are in: ", h("button", { type: "button", class: "main", onclick: () => void ask(true) }, "It is done: write it down")));
  };
  // Readings that a leaf has answered are over: asked again they would call for a second leaf.
  const done = async (kept: Alignment): Promise<void> => {
    looks.length = 0;
    show(answer, alignmentSheet(kept), h("p", {}, "The readings are taken off the list: what is looked at from now on is the saw with its leaf."));
    drawList();
    const mine = call;
    const now = await askTruing(batch);
    if (mine !== call || !now.ok) return;
    truing = now.value;
    drawDone();
  };
  const later = (): void => {
    window.clearTimeout(timer);
    timer = window.setTimeout(() => void ask(false), PAUSE_MS);
  };

  const askField = (a: Ask, look: Look): HTMLElement => {
    const options = optionsOf(a);
    const set = (text: string): void => {
      look.values[a.key] = text;
      later();
    };
    const unit = a.kind === "length" ? (current().units === "mm" ? ", mm" : ", in") : "";
    const label = `${a.says}${unit}${a.optional ? " (may be left out)" : ""}`;
    if (options) return field(label, choice([{ id: "", label: "choose" }, ...options], look.values[a.key] ?? "", set));
    const input = h("input", { type: "text", inputmode: "decimal", autocomplete: "off", value: look.values[a.key] ?? "", oninput: () => set(input.value) });
    return field(label, input);
  };
  const drawList = (): void => {
    const kind = (l: Look): Truing["looks"][number] | undefined => truing.looks.find((one) => one.id === l.look);
    show(list, looks.map((look, i) => h("fieldset", { class: "sheet look" }, h("legend", {}, `${i + 1}. ${kind(look)?.says ?? look.look}`),
      h("div", { class: "row" }, (kind(look)?.asks ?? []).map((a) => askField(a, look)),
        h("button", { type: "button", "aria-label": `take reading ${i + 1} away`, onclick: () => {
          looks.splice(i, 1);
          drawList();
          later();
        } }, "Take away")))));
  };
  const add = (look: string): void => {
    // The arm or bar is mostly the same as last time.
    const card = truing.prepared.find((p) => p.look === look);
    const before = [...looks].reverse().find((l) => l.look === look)?.values["over"] ?? (card ? `${card.over_mm} mm` : "");
    looks.push({ look, values: before ? { over: before } : {} });
    drawList();
    (list.lastElementChild?.querySelector("input, select") as HTMLElement | null)?.focus();
  };
  const numbers = (): HTMLElement => h("details", {}, h("summary", {}, "What is known of this saw"), table("What is known of this saw", [
    { head: "What", cell: (k) => k.name },
    { head: "Best value", number: true, cell: (k) => knownText(k.value, k.unit) },
    { head: "\u00b1 u", number: true, cell: (k) => knownText(k.u, k.unit) },
    { head: "From", cell: (k) => k.source },
  ], truing.known));

  // What was typed stays what it was when other units are shown, now or when the view is opened again.
  const keepUnits = (): void => {
    for (const { look, values } of looks)
      for (const a of truing.looks.find((l) => l.id === look)?.asks ?? [])
        if (a.kind === "length" && (values[a.key] ?? "").trim() !== "") values[a.key] = withUnit(values[a.key]!, units);
    units = current().units;
  };
  const draw = (): void => {
    drawList();
    show(host,
      h("nav", { class: "set-up-nav no-print", "aria-label": "set-ups" }, h("a", { href: hashOf({ view: "saw" }) }, "All set-ups")),
      h("h2", {}, "Truing the saw"),
      h("p", { class: "caution" }, truing.caution),
      h("div", { class: "columns even" },
        h("div", {}, h("p", { class: "row", role: "group", "aria-label": "add a reading" },
          truing.looks.map((l) => h("button", { type: "button", onclick: () => add(l.id) }, `+ ${l.says}`))), list),
        answer),
      truing.prepared.length > 0 && h("h2", {}, "The truing card: in this order, with the clamp force that you cut with"),
      h("div", { class: "prepared" }, truing.prepared.map((p, i) => preparedSheet(p, i + 1))),
      known);
    drawDone();
  };
  const drawDone = (): void =>
    show(known, numbers(),
      truing.done.length > 0 && table("Truings in the ledger", [
        { head: "When", cell: (d) => timeText(d.at) },
        { head: "Miter", number: true, cell: (d) => angleText(d.miter_deg, d.miter_u_deg) },
        { head: "By", cell: (d) => d.by },
        { head: "Note", cell: (d) => (d.withdrawn ? `withdrawn. ${d.note}` : d.note) },
      ], truing.done));
  draw();
  void ask(false);
  return {
    redraw: () => {
      if (units !== current().units) keepUnits();
      draw();
      void ask(false);
    },
    undo: () => {
      window.clearTimeout(timer);
      ++call;
      keepUnits();
      show(host);
    },
  };
}
