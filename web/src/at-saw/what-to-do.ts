// what-to-do.ts - the correction of a stop from the ledger's readings, in words that can be read from a distance.
import { h, show } from "../dom";
import { current } from "../state";
import { smallText } from "../units";
import { problemBox, waitBox } from "../view/notice";
import { askCorrection } from "../saw/ask";
import type { Correction } from "../saw/model";
import { adviceHead } from "../saw/words";
import type { Bench } from "./bench";
import { stackList } from "./faces";
import { remembered } from "./memory";

function adviceBox(c: Correction, waiting: number): HTMLElement[] {
  const { units } = current();
  const readings = c.readings === 1 ? "one reading" : `${c.readings} readings`;
  return [
    h("p", { class: "advice-head" }, adviceHead(c)),
    h("p", {}, c.says),
    ...(c.stack_mm ? [stackList(c.stack_mm)] : []),
    h("p", {}, `From ${readings}, mean ${smallText(c.mean_mm, units)}, wanted ${smallText(c.wanted_mm, units)}.`),
    ...(waiting > 0 ? [h("p", { class: "warning" }, `${waiting} more on this phone are not in it yet.`)] : []),
    h("p", { class: "caution" }, "Touch stop, leaf and gauge block only when the blade stands; follow the machine's manual."),
  ];
}

//   changed  a leaf was put in: readings count anew
export function openWhatToDo(bench: Bench, waiting: number, changed: () => void): void {
  const content = h("div", { "aria-live": "polite" }, waitBox("Asking."));
  const buttons = h("div", { class: "steps" });
  const dialog = h("dialog", { class: "what-to-do", "aria-label": `what to do about stop ${bench.stop}` }, content, buttons);
  const close = h("button", { type: "button", onclick: () => dialog.close() }, "Back");
  dialog.addEventListener("close", () => dialog.remove());

  const ask = async (keep: boolean): Promise<void> => {
    const reply = await askCorrection({
      batch: bench.batch, setup: bench.setup.id, stop: bench.stop, measured: [], keep, by: remembered().by,
      ...(keep ? { after: bench.newest_leaf } : {}),
    });
    if (!reply.ok) return show(content, problemBox(reply.problem, () => void ask(keep)));
    if (keep && reply.value.kept) {
      show(content, h("p", { class: "advice-head" }, "Written down: the leaf is in."),
        h("p", {}, "Readings of this stop count anew. Cut a test block and measure it."));
      show(buttons, close);
      return changed();
    }
    show(content, adviceBox(reply.value, waiting));
    const isIn = reply.value.advice === "shim" && h("button", { type: "button", class: "main", onclick: () => void ask(true) }, "The leaf is in");
    show(buttons, close, isIn);
  };

  show(buttons, close);
  document.body.append(dialog);
  dialog.showModal();
  void ask(false);
}
