// sliders.ts - an allowance for each size, tried while the slider moves.
import { h, show } from "../dom";
import { current } from "../state";
import { smallText } from "../units";
import type { BindingFit, Size } from "./model";

export interface Sliders {
  element: HTMLElement;
  put: (mm: readonly number[]) => void; // and tells
}

// What a slider can stand at: the program's limits, and what it advises, whatever the steps.
function slider(size: Size, start: number, moved: (mm: number) => void): { element: HTMLElement; put: (mm: number) => void } {
  const said = h("output", { class: "said" });
  const range = h("input", {
    type: "range", min: size.least_mm, max: size.most_mm, step: "any", "aria-label": `allowance of ${size.name}`,
  });
  const set = (mm: number): void => {
    range.value = String(mm);
    const text = smallText(mm, current().units);
    said.textContent = mm > 0 ? `+${text}` : text;
    range.setAttribute("aria-valuetext", text);
  };
  const go = (mm: number): void => {
    const steps = Math.round(mm / size.step_mm) * size.step_mm;
    const to = Math.min(size.most_mm, Math.max(size.least_mm, steps));
    set(to);
    moved(to);
  };
  range.addEventListener("input", () => go(Number(range.value)));
  range.addEventListener("keydown", (event) => {
    const now = Number(range.value);
    const to: Record<string, number> = {
      ArrowRight: now + size.step_mm, ArrowUp: now + size.step_mm, ArrowLeft: now - size.step_mm, ArrowDown: now - size.step_mm,
      PageUp: now + 10 * size.step_mm, PageDown: now - 10 * size.step_mm, Home: size.least_mm, End: size.most_mm,
    };
    const at = to[event.key];
    if (at === undefined) return;
    event.preventDefault();
    go(at);
  });
  set(start);
  const slope = Math.abs(size.play_per_mm).toFixed(2);
  const effect = Number(slope) === 0
    ? " changes no play"
    : ` ${size.play_per_mm > 0 ? "more" : "less"} play: ${slope} of what is added`;
  const element = h(
    "div",
    { class: "slider" },
    h("span", { class: "slider-name" }, size.name, h("small", {}, effect)),
    range,
    said,
  );
  return { element, put: set };
}

//   start  mm, one for each size
//   told   all of them, whenever one has moved
export function sliders(fit: BindingFit, start: readonly number[], told: (mm: number[]) => void): Sliders {
  const at = fit.sizes.map((_, k) => start[k] ?? 0);
  const all = fit.sizes.map((size, k) => slider(size, at[k]!, (mm) => {
    at[k] = mm;
    told([...at]);
  }));
  const put = (mm: readonly number[]): void => {
    all.forEach((s, k) => s.put((at[k] = mm[k] ?? 0)));
    told([...at]);
  };
  const element = h("div", { class: "sliders no-print" });
  show(
    element,
    all.map((s) => s.element),
    h(
      "div",
      { class: "row" },
      h("button", { type: "button", onclick: () => put(fit.sizes.map(() => 0)) }, "As planned"),
      h("button", { type: "button", onclick: () => put(fit.sizes.map((s) => s.advised_mm)) }, "As advised"),
      h("span", { class: "small" }, `Arrow keys: ${smallText(fit.sizes[0]?.step_mm ?? 0, current().units)}; Page up and down: ten times that.`),
    ),
  );
  return { element, put };
}
