// copying.ts - the whole design under another name, with the piece as it is here.
import type { Problem } from "../../api";
import { field, h, show } from "../../dom";
import { problemBox } from "../../view/notice";
import type { Draft } from "./draft";
import { missing, saveCopy, type Saved } from "./saving";

export interface Copying {
  element: HTMLDetailsElement;
  open(): void;
}

//   saved  the copy is written; the work goes on there
export function createCopying(draft: Draft, saved: (to: Saved) => void): Copying {
  const file = h("input", { type: "text", placeholder: "for instance: second-try.toml", autocomplete: "off" });
  const said = h("div", { "aria-live": "polite" });
  const refuse = (problem: Problem): void => show(said, problemBox(problem));
  const begin = async (): Promise<void> => {
    const lacks = missing(draft) || (file.value.trim() === "" ? "Give the copy a file name first." : "");
    if (lacks) return show(said, h("p", { class: "warning" }, lacks));
    store.disabled = true;
    show(said);
    const reply = await saveCopy(draft, file.value);
    store.disabled = false;
    if (reply.ok) saved(reply.value);
    else refuse(reply.problem);
  };
  const store = h("button", { type: "button", onclick: () => void begin() }, "Save the copy");
  const element = h("details", { class: "copying" }, h("summary", {}, "Save under another name"),
    h("p", {}, `A copy of ${draft.design}, all its pieces and notes with it; this piece as it is here. ${draft.design} stays as it is.`),
    field("File of the copy", file), h("div", { class: "row" }, store), said);
  element.hidden = draft.design === null;
  return {
    element,
    open: () => {
      element.open = true;
      file.focus();
    },
  };
}
