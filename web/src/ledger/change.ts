// change.ts - a reading is corrected, withdrawn, put back. Nothing is erased: each is one more entry about the reading.
import type { Problem } from "../api";
import { field, freshId, h, show } from "../dom";
import { withUnit, type Units } from "../units";
import { problemBox } from "../view/notice";
import { askChange, type Reading, type Recorded } from "./model";
import { isWithdrawn, lastValue } from "./points";
import { rememberWho, whoIsHere } from "./who";
import { readingText } from "./words";

export type ChangeKind = "correct" | "withdraw" | "put back";

// What was done, and what takes it back: the value that stood before, or null where it was withdrawn.
export interface Done {
  id: number;
  says: string;
  before: string | null;
  told: Recorded;
}

// A value that the ledger gave, to the nanometer, as it reads it.
export function exactText(mm: number): string {
  return `${Number(mm.toFixed(6))} mm`;
}

export function valueBefore(r: Reading): string | null {
  return isWithdrawn(r) ? null : exactText(lastValue(r));
}

const TITLES: Record<ChangeKind, string> = { correct: "Correct", withdraw: "Withdraw", "put back": "Put back" };

function hint(kind: ChangeKind, r: Reading, units: Units): string {
  const now = readingText(lastValue(r), units);
  if (kind === "correct") return `It says ${now}. That stays in the ledger and is shown beside the new value.`;
  if (kind === "withdraw")
    return `${now} stays in the ledger, shown as withdrawn, and does not count any more. It can be put back; that is written down, too.`;
  return `It counts again as ${now}. That it was withdrawn stays in the ledger.`;
}

function doneWords(kind: ChangeKind, r: Reading, value: string | null): string {
  if (kind === "correct") return `Entry ${r.id} now says ${value}.`;
  return kind === "withdraw" ? `Entry ${r.id} is withdrawn.` : `Entry ${r.id} counts again.`;
}

// Takes back what was done, in the name of who did it.
export async function takeBack(batch: string, done: Done): Promise<Problem | null> {
  const reply = await askChange(batch, done.id, done.before, whoIsHere(), "taken back");
  return reply.ok ? null : reply.problem;
}

export interface ChangeAsked {
  batch: string;
  reading: Reading;
  kind: ChangeKind;
  units: Units;
  done: (d: Done) => void;
  close: () => void;
}

export function changeForm(asked: ChangeAsked): HTMLElement {
  const { reading, kind, units } = asked;
  const value = h("input", { inputmode: "decimal", autocomplete: "off", required: true, size: 12 });
  const by = h("input", { value: whoIsHere(), autocomplete: "off", size: 12 });
  const remark = h("input", { autocomplete: "off", size: 28 });
  const problem = h("div");
  const save = h("button", { class: "main" }, TITLES[kind]);
  const hintId = freshId("hint");

  const send = async (): Promise<void> => {
    const text = kind === "withdraw" ? null : kind === "correct" ? withUnit(value.value, units) : exactText(lastValue(reading));
    save.disabled = true;
    rememberWho(by.value);
    const reply = await askChange(asked.batch, reading.id, text, by.value.trim(), remark.value.trim());
    save.disabled = false;
    if (!reply.ok) return show(problem, problemBox(reply.problem));
    asked.done({ id: reading.id, says: doneWords(kind, reading, text), before: valueBefore(reading), told: reply.value });
  };
  return h(
    "form",
    {
      class: "change", "aria-label": `${TITLES[kind]} entry ${reading.id}`, "aria-describedby": hintId,
      onsubmit: (event: Event) => { event.preventDefault(); void send(); },
      onkeydown: (event: KeyboardEvent) => { if (event.key === "Escape") asked.close(); },
    },
    h("p", { id: hintId }, hint(kind, reading, units)),
    h("div", { class: "row" },
      kind === "correct" && field("What it should have been", value),
      field("Who", by),
      field(kind === "withdraw" ? "Why" : "Remark", remark),
      h("div", { class: "field actions" }, save, h("button", { type: "button", onclick: asked.close }, "Leave it"))),
    problem,
  );
}
