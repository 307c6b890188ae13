// reading-field.ts - the field for readings. It takes whatever a caliper types, wherever the focus is.
import { freshId, h } from "../dom";
import { remember, remembered } from "./memory";
import { belongsToReading } from "./wedge";

const CALIPER_PAUSE_MS = 60; // calipers type faster than this; hands do not

export interface ReadingField {
  element: HTMLElement;
  input: HTMLInputElement;
  type(text: string): void; // from the number pad
  erase(): void;
  clear(): void;
  label(text: string): void;
  listen(): () => void; // to the whole page; returns its undo
}

function isEditable(element: Element | null): boolean {
  return element instanceof HTMLInputElement || element instanceof HTMLTextAreaElement;
}

//   enter   the text is complete
//   typing  something was typed while perhaps another face is shown
export function readingField(enter: () => void, typing: () => void): ReadingField {
  const input = h("input", {
    id: freshId("reading"), class: "reading", type: "text", inputmode: "none", autocomplete: "off",
    autocapitalize: "off", spellcheck: "false", enterkeyhint: "done", value: remembered().draft,
  });
  const label = h("label", { for: input.id });
  let lastKey = 0;

  const changed = (): void => {
    remember({ draft: input.value });
    typing();
  };
  const set = (text: string): void => {
    input.value = text;
    changed();
  };
  const onKey = (event: KeyboardEvent): void => {
    const pause = event.timeStamp - lastKey;
    if (event.key.length === 1) lastKey = event.timeStamp;
    const byTab = event.key === "Tab" && !event.shiftKey && input.value !== "" && pause < CALIPER_PAUSE_MS;
    if (event.key !== "Enter" && !byTab) return;
    event.preventDefault();
    enter();
  };
  input.addEventListener("input", changed);
  input.addEventListener("keydown", onKey);

  const focus = (): void => {
    if (!document.querySelector("dialog[open]")) input.focus({ preventScroll: true });
  };
  // The key arrives in the field: moving the focus while it goes down is enough.
  const onPageKey = (event: KeyboardEvent): void => {
    if (document.activeElement === input || isEditable(document.activeElement) || !belongsToReading(event)) return;
    lastKey = event.timeStamp;
    focus();
  };
  // A thumb took the focus along to a button. Who goes by the keyboard keeps it where it is.
  const onClick = (event: MouseEvent): void => {
    if (event.detail > 0 && !isEditable(document.activeElement)) focus();
  };
  const onSeen = (): void => {
    if (document.visibilityState === "visible" && !isEditable(document.activeElement)) focus();
  };

  return {
    element: h("div", { class: "reading-box" }, label, input),
    input,
    type: (text) => set(input.value + text),
    erase: () => set(input.value.slice(0, -1)),
    clear: () => {
      input.value = "";
      remember({ draft: "" });
    },
    label: (text) => {
      label.textContent = text;
    },
    listen: () => {
      document.addEventListener("keydown", onPageKey);
      document.addEventListener("click", onClick);
      document.addEventListener("visibilitychange", onSeen);
      window.addEventListener("focus", onSeen);
      focus();
      return () => {
        document.removeEventListener("keydown", onPageKey);
        document.removeEventListener("click", onClick);
        document.removeEventListener("visibilitychange", onSeen);
        window.removeEventListener("focus", onSeen);
      };
    },
  };
}
