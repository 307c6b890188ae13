// desk.ts - readings entered at the desk, from a slip of paper or a caliper that types like a keyboard.
import { get } from "../api";
import { field, h, show } from "../dom";
import { current } from "../state";
import { announce, problemBox } from "../view/notice";
import { keyKeeper, type Typed } from "./desk-entry";
import type { Filter } from "./filter";
import { askChange, askRecord, type ReadSize, type Recorded, type SetUpWoods } from "./model";
import { lightBox } from "./size-sheet";
import { rememberWho, whoIsHere } from "./who";
import { plural } from "./words";

export interface Desk {
  element: HTMLDetailsElement;
  sizes(all: readonly ReadSize[], numbers: ReadonlyMap<string, number>, chosen: Pick<Filter, "setup" | "stop" | "width">): void;
}

interface Choice {
  setup: string;
  stop: number; // 0: widths
  label: string;
}

// Widths of a block are read together.
export function choicesOf(all: readonly ReadSize[], numbers: ReadonlyMap<string, number>): Choice[] {
  const out: Choice[] = [];
  for (const s of all) {
    const stop = s.stop ?? 0;
    if (out.some((c) => c.setup === s.setup && c.stop === stop)) continue;
    out.push({ setup: s.setup, stop, label: `${numbers.get(s.setup) ?? ""}. ${s.name}, ${stop === 0 ? "widths" : s.size}` });
  }
  return out;
}

function isChosen(c: Choice, f: Pick<Filter, "setup" | "stop" | "width">): boolean {
  if (f.stop === null && f.width === null) return c.setup === f.setup;
  return c.setup === f.setup && c.stop === (f.stop ?? 0);
}

export function desk(batch: string, changed: () => void, signal: AbortSignal): Desk {
  const keys = keyKeeper();
  let choices: Choice[] = [];
  let woods = new Map<string, string[]>();
  const which = h("select", { onchange: () => drawWoods() });
  const values = h("input", { inputmode: "text", autocomplete: "off", required: true, size: 34 });
  const wood = h("select");
  const block = h("input", { type: "number", min: 1, step: 1, size: 5 });
  const [stick, instrument, note] = [h("input", { size: 8 }), h("input", { size: 14 }), h("input", { size: 24 })];
  const by = h("input", { value: whoIsHere(), size: 10 });
  const save = h("button", { class: "main" }, "Write into the ledger");
  const told = h("div", { role: "status" });

  function drawWoods(): void {
    const before = wood.value;
    const own = woods.get(choices[which.selectedIndex]?.setup ?? "") ?? [];
    show(wood, ["", ...own].map((w) => h("option", { value: w }, w || "not said")));
    wood.value = own.includes(before) ? before : "";
  }
  const withdraw = async (ids: number[]): Promise<void> => {
    for (const id of ids) {
      const reply = await askChange(batch, id, null, whoIsHere(), "taken back");
      if (!reply.ok) return show(told, problemBox(reply.problem));
    }
    show(told, h("p", {}, `${plural(ids.length, "reading")} withdrawn; below they stay in sight.`));
    changed();
  };
  const answer = (said: Recorded, sent: Map<string, string>): void => {
    const stored = said.stored ?? [];
    const refused = said.refused ?? [];
    values.value = refused.map((r) => sent.get(r.key) ?? "").join(" ");
    block.value = "";
    show(told,
      said.says && lightBox(said.light ?? "unknown", said.says),
      stored.length > 0 && h("p", {}, `In the ledger: ${plural(stored.length, "reading")}. `,
        h("button", { type: "button", onclick: () => void withdraw(stored.map((s) => s.id)) }, "Undo")),
      refused.map((r) => h("p", { class: "warning" }, `Not taken: ${sent.get(r.key) ?? ""}. ${r.say}`)));
    values.focus();
    if (stored.length > 0) changed();
  };
  const send = async (): Promise<void> => {
    const choice = choices[which.selectedIndex];
    if (!choice) return;
    const typed: Typed = {
      setup: choice.setup, stop: choice.stop, wood: wood.value, stick: stick.value.trim(), by: by.value.trim(),
      instrument: instrument.value.trim(), note: note.value.trim(), values: values.value, block: block.value === "" ? null : Number(block.value),
    };
    const entry = keys.entry(typed, current().units);
    const sent = new Map(entry.readings.map((r) => [r.key, r.value_2 === undefined ? r.value : `${r.value}/${r.value_2}`]));
    rememberWho(typed.by);
    save.disabled = true;
    const reply = await askRecord(batch, entry);
    save.disabled = false;
    if (signal.aborted) return;
    if (!reply.ok) return show(told, problemBox(reply.problem), h("p", {}, "What you typed stays here; sent again it is stored once."));
    keys.answered();
    answer(reply.value, sent);
    announce(reply.value.says ?? "");
  };
  const learnWoods = async (): Promise<void> => {
    const reply = await get<SetUpWoods>("/api/setups", { batch }, signal).catch(() => null);
    if (!reply?.ok) return; // the wood is then not said
    woods = new Map(reply.value.setups.map((s) => [s.id, Object.keys(s.needed)]));
    drawWoods();
  };
  const form = h("form", { class: "desk", onsubmit: (e: Event) => { e.preventDefault(); void send(); } },
    h("div", { class: "row" }, field("Which size", which), field("Values", values, "16.02 16.03; of widths 15.98/16.01 for both pairs of sides"), field("Wood", wood), h("div", { class: "field" }, save)),
    h("div", { class: "row" }, field("Number on the first block", block, "the next ones count on"), field("Stick", stick), field("Who", by),
      field("Measured with", instrument, "the shop's caliper if left out"), field("Remark", note)),
    told);
  let learned = false;
  let lookedAt = ""; // what was looked at is proposed, until another is chosen here
  const element = h("details", {
    class: "sheet no-print",
    ontoggle: () => { if (element.open && !learned) { learned = true; void learnWoods(); } },
  }, h("summary", {}, "Enter readings here"), form);
  return {
    element,
    sizes: (all, numbers, chosen) => {
      const before = choices[which.selectedIndex];
      choices = choicesOf(all, numbers);
      show(which, choices.map((c) => h("option", {}, c.label)));
      const anew = lookedAt !== (lookedAt = JSON.stringify([chosen.setup, chosen.stop, chosen.width]));
      which.selectedIndex = Math.max(0, choices.findIndex((c) => (anew || !before ? isChosen(c, chosen) : c.label === before.label)));
      drawWoods();
    },
  };
}
