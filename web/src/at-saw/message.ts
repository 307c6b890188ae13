// message.ts - one line below the field: what became of the last entry, and how many readings are not in the ledger yet.
import { h, show } from "../dom";
import { entryText, type Entry } from "./entry";
import { waiting } from "./queue";
import { waitingText } from "./queue-list";

type Kind = "kept" | "wrong" | "";

export interface MessageLine {
  element: HTMLElement;
  say(text: string, kind: Kind): void;
  stored(e: Entry): void; // the ledger has it
  update(): void; // the readings on this phone changed
}

export function messageLine(): MessageLine {
  const element = h("p", { class: "message", role: "status" });
  let text = "";
  let kind: Kind = "";
  let held = new Set(waiting().filter((e) => e.held).map((e) => e.key));

  const update = (): void => {
    const wait = waiting();
    const refused = wait.filter((e) => e.held);
    const fresh = refused.find((e) => !held.has(e.key));
    held = new Set(refused.map((e) => e.key));
    if (fresh) [text, kind] = [`Not taken: ${entryText(fresh)}. ${fresh.held!.say}`, "wrong"];
    element.className = `message ${kind}`;
    show(element, text, text && wait.length > 0 && "; ", wait.length > 0 && h("span", {}, waitingText(wait)));
  };
  const say = (what: string, of: Kind): void => {
    [text, kind] = [what, of];
    update();
  };
  update();
  return {
    element,
    say,
    update,
    stored: (e) => {
      if (kind !== "wrong" && e.withdraws === null) say(`In the ledger: ${entryText(e)}`, "kept");
    },
  };
}
