// correct.ts - a measured test block is typed in, and what to do about it stands beside it at once.
import { field, h, show } from "../dom";
import { current } from "../state";
import { withUnit, type Units } from "../units";
import { announce, problemBox } from "../view/notice";
import { adviceSheet } from "./advice";
import { askCorrection } from "./ask";
import type { Correction } from "./model";
import { askPlaces, newestLeaf } from "./places";
import { adviceHead } from "./words";

const PAUSE_MS = 350; // after the last key

export interface CorrectForm {
  element: HTMLElement;
  redraw(): void; // units changed
  dispose(): void;
}

// "16.02 16,03 mm; 0.631 in": numbers, each with its unit if it has one.
export function measuredOf(text: string, units: Units): string[] {
  return [...text.matchAll(/[^\s;]+(?:\s+(?:mm|in)\b)?/g)].map((m) => withUnit(m[0], units));
}

export function correctForm(batch: string, setup: string, stop: number): CorrectForm {
  const answer = h("div", { "aria-live": "polite" });
  const measured = h("input", { type: "text", autocomplete: "off", oninput: () => later() });
  const by = h("input", { type: "text", autocomplete: "name" });
  let timer = 0;
  let call = 0;
  let last: Correction | null = null;
  let units = current().units; // in which it is typed
  let seen: number | null = null; // the newest leaf under the stop

  const draw = (): void => {
    const keep = last?.advice === "shim" && !last.kept && h("div", { class: "row no-print" }, field("By", by),
      h("button", { type: "button", class: "main", onclick: () => void ask(true) }, "The leaf is in: write it down"));
    const done = last?.kept && h("p", { class: "good" }, "Written into the ledger: readings of this stop count from now on.");
    show(answer, last && adviceSheet(last), keep, done);
  };
  const seeLeaves = async (): Promise<void> => {
    if (seen !== null) return;
    const places = await askPlaces(batch, setup, stop);
    if (places.ok) seen = newestLeaf(places.value);
  };
  const ask = async (keep: boolean): Promise<void> => {
    window.clearTimeout(timer);
    const mine = ++call;
    const values = measuredOf(measured.value, units);
    if (values.length === 0) {
      last = null;
      return draw();
    }
    if (!keep) await seeLeaves();
    const reply = await askCorrection({
      batch, setup, stop, measured: values, keep, by: by.value.trim(), ...(keep && seen !== null ? { after: seen } : {}),
    });
    if (mine !== call) return;
    last = reply.ok ? reply.value : null;
    if (!reply.ok) return show(answer, problemBox(reply.problem));
    if (reply.value.kept) seen = null;
    draw();
    announce(keep ? "Written down." : adviceHead(reply.value));
  };
  const later = (): void => {
    window.clearTimeout(timer);
    timer = window.setTimeout(() => void ask(false), PAUSE_MS);
  };
  const submit = (event: Event): void => {
    event.preventDefault();
    void ask(false);
  };

  return {
    element: h("form", { class: "correct-form no-print", onsubmit: submit },
      field(`Test block of stop ${stop} measured`, measured, "One reading or several, blanks between them. Nothing is kept by typing."), answer),
    redraw: () => {
      // What was typed stays what it was.
      if (units !== current().units && measured.value.trim() !== "") measured.value = measuredOf(measured.value, units).join("; ");
      units = current().units;
      if (last) draw();
    },
    dispose: () => window.clearTimeout(timer),
  };
}
