// notice.ts - problems, empty places, and what a screen reader is told.
import type { Problem } from "../api";
import { h } from "../dom";

export function problemBox(problem: Problem, again?: () => void): HTMLElement {
  return h(
    "div",
    { class: "problem", role: "alert" },
    problem.where && h("strong", {}, problem.where),
    h("p", {}, problem.say),
    problem.excerpt && h("pre", { tabindex: 0, "aria-label": "the line of the file" }, problem.excerpt),
    again && h("button", { type: "button", onclick: again }, "Try again"),
  );
}

// A place with nothing in it yet, that teaches how something comes there.
export function emptyBox(say: string, ...more: Node[]): HTMLElement {
  return h("div", { class: "empty" }, h("p", {}, say), ...more);
}

export function waitBox(say: string): HTMLElement {
  return h("p", { class: "wait", role: "status" }, say);
}

let region: HTMLElement | null = null;

// Says it to screen readers, politely.
export function announce(say: string): void {
  if (!region) {
    region = h("div", { class: "only-read", "aria-live": "polite" });
    document.body.append(region);
  }
  region.textContent = say;
}
