// queue-list.ts - what is on this phone: each reading with its state, and what can be done about it.
import { h, show } from "../dom";
import type { Problem } from "../api";
import { entryText, type Entry } from "./entry";
import { drop, entries, find, isUndone, put, undo, waiting } from "./queue";
import type { Sender } from "./sender";

// What the ledger has not got: what goes there by itself, and what it did not take and somebody has to look at.
export function waitingText(wait: readonly Entry[]): string {
  const held = wait.filter((e) => e.held).length;
  const going = wait.length - held;
  if (wait.length === 0) return "All in the ledger";
  const parts = [going > 0 && `${going} on this phone, not in the ledger yet`, held > 0 && `${held} not taken: look`];
  return parts.filter((p) => p !== false).join("; ");
}

function stateText(e: Entry, sender: Sender): string {
  if (e.ids.length > 0) return `in the ledger, entry ${e.ids.join(" and ")}`;
  if (e.held) return `not taken: ${e.held.say}`;
  if (isUndone(e.key)) return "undone; the ledger is asked whether it has it";
  return sender.state().sending ? "on its way" : "waiting";
}

// Never lost by a slip: what was refused goes only by its own button.
function deeds(e: Entry, sender: Sender, correct: (e: Entry) => void, changed: () => void): HTMLElement[] {
  const act = (label: string, what: () => void): HTMLElement =>
    h("button", { type: "button", "aria-label": `${label}: ${entryText(e)}`, onclick: () => {
      what();
      changed();
    } }, label);
  const again = (): void => {
    const now = find(e.key);
    if (now) put({ ...now, held: null });
    sender.kick();
  };
  if (e.ids.length > 0) return [];
  if (!e.held) return e.withdraws === null ? [act("Undo", () => { undo(e.key); sender.kick(); })] : [];
  const gone = act("Discard", () => (e.held?.whole ? undo(e.key) : undefined, drop(e.key)));
  if (e.held.whole || e.withdraws !== null) return [act("Send again", again), gone];
  return [act("Correct", () => correct(e)), gone];
}

export interface QueueList {
  line: HTMLElement; // one line, always seen
  update(): void;
  open(): void;
}

//   correct  puts the entry's text back into the field and takes the entry away
export function queueList(sender: () => Sender, correct: (e: Entry) => void, changed: () => void): QueueList {
  const line = h("button", { type: "button", class: "queue-line", onclick: () => api.open() });
  const list = h("ul", { class: "queue" });
  const trouble = h("p", { class: "queue-trouble", role: "status" });
  const dialog = h("dialog", { class: "queue-box", "aria-label": "readings on this phone" },
    h("h2", {}, "Readings on this phone"), trouble, list,
    h("div", { class: "steps" }, h("button", { type: "button", onclick: () => dialog.close() }, "Back"),
      h("button", { type: "button", class: "main", onclick: () => sender().wake() }, "Send now")));

  const row = (e: Entry): HTMLElement =>
    h("li", { class: e.held ? "held" : e.ids.length > 0 ? "there" : "waits" },
      h("b", {}, entryText(e)), h("small", {}, `${e.setup}, ${e.stop === 0 ? "widths" : `stop ${e.stop}`}`),
      h("span", {}, stateText(e, sender())), h("div", { class: "steps" }, deeds(e, sender(), (one) => {
        dialog.close();
        correct(one);
      }, changed)));

  const troubleText = (problem: Problem | null): string => (problem ? `${problem.say} It is tried again by itself.` : "");
  const api: QueueList = {
    line,
    update: () => {
      const wait = waiting();
      const held = wait.filter((e) => e.held).length;
      line.dataset["state"] = held > 0 ? "held" : wait.length > 0 ? "waits" : "there";
      line.textContent = waitingText(wait);
      if (!dialog.open) return;
      trouble.textContent = troubleText(sender().state().problem);
      const all = entries().reverse();
      if (all.length === 0) show(list, h("li", {}, "Nothing yet. What you keep stands here until the ledger has it."));
      else show(list, all.map(row));
    },
    open: () => {
      if (!dialog.isConnected) document.body.append(dialog);
      if (!dialog.open) dialog.showModal();
      api.update();
    },
  };
  dialog.addEventListener("close", () => dialog.remove());
  return api;
}
