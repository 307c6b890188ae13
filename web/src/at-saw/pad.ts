// pad.ts - digits for a gloved thumb.
import { h } from "../dom";

const DIGITS = ["7", "8", "9", "4", "5", "6", "1", "2", "3", "0", "."];

export interface PadKeys {
  type: (text: string) => void;
  erase: () => void;
  enter: () => void;
  undo: () => void;
}

// The keys do not take the focus from the field: a caliper may type at any moment.
function key(label: string, name: string, kind: string, act: () => void): HTMLElement {
  return h("button", {
    type: "button", class: kind, "aria-label": name, onclick: act, onpointerdown: (event: Event) => event.preventDefault(),
  }, label);
}

export function numberPad(keys: PadKeys): HTMLElement {
  const digits = DIGITS.map((d) => key(d, d === "." ? "point" : d, `pad-key k${d === "." ? "point" : d}`, () => keys.type(d)));
  return h(
    "div",
    { class: "pad", role: "group", "aria-label": "number pad" },
    digits,
    key("\u232b", "erase the last digit", "pad-key erase", keys.erase),
    key("Undo", "undo the last reading", "pad-key undo", keys.undo),
    key("Keep", "keep this reading", "pad-key keep main", keys.enter),
  );
}
