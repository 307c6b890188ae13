// set-up.ts - one set-up, opened: its cuts in space and in words, its stops, their tests.
import { h, show } from "../dom";
import { hashOf, note } from "../router";
import { lengthText } from "../units";
import { current } from "../state";
import { cautionsBox } from "./cards";
import { correctForm } from "./correct";
import { cutDrawing } from "./drawing";
import type { SetUp, SetUps, Step } from "./model";
import { budgetTable, leafTable, stackTable, testFigures } from "./proof";
import { woodsText } from "./words";

export interface OpenSetUp {
  redraw(): void;
  undo(): void;
}

function neighbors(data: SetUps, setup: SetUp): HTMLElement {
  const link = (label: string, to: SetUp | undefined): HTMLElement | null =>
    to ? h("a", { href: hashOf({ view: "saw", part: to.id }), "aria-label": `${label}: ${to.name}` }, label) : null;
  const at = data.setups.indexOf(setup);
  return h("nav", { class: "set-up-nav no-print", "aria-label": "set-ups" },
    h("a", { href: hashOf({ view: "saw" }) }, "All set-ups"),
    link("Previous", data.setups[at - 1]), link("Next", data.setups[at + 1]),
    h("button", { type: "button", onclick: () => window.print() }, "Print this card"),
    h("a", { class: "as-button main", href: hashOf({ view: "at-saw", part: setup.id, query: { stop: "1" } }) }, "Take it to the saw"));
}

function needs(setup: SetUp): HTMLElement {
  return h("div", { class: "needs" },
    h("p", {}, h("b", { class: "figure" }, `${setup.blocks} blocks`)),
    h("ul", { class: "woods" }, woodsText(setup).map((w) => h("li", {}, w))),
    h("p", {}, `Each uses up ${lengthText(setup.stick_per_block_mm, current().units)} of stick, kerf included.`));
}

function stepName(s: Step): string {
  if (s.does === "stop") return `Stop ${s.stop}`;
  return s.does === "cut" ? `Cut ${s.mark}` : "Test";
}

export function openSetUp(host: HTMLElement, data: SetUps, setup: SetUp, firstStep: number): OpenSetUp {
  const drawing = cutDrawing(data.batch, setup.id);
  const forms = setup.stops.map((_, i) => correctForm(data.batch, setup.id, i + 1));
  let step = Math.min(Math.max(firstStep, 0), setup.steps.length - 1);

  const cutList = h("ol", { class: "cut-list" });
  const drawCuts = (): void => {
    const take = (i: number): void => {
      step = i;
      note({ view: "saw", part: setup.id, query: { step: String(i + 1) } });
      drawing.show(i + 1, setup.steps[i]!.says);
      drawCuts();
      (cutList.children[i]?.firstElementChild as HTMLElement | null)?.focus({ preventScroll: true });
    };
    show(cutList, setup.steps.map((s, i) => h("li", {},
      h("button", { type: "button", class: "cut-button", "aria-pressed": String(i === step), onclick: () => take(i) },
        h("b", {}, stepName(s)), h("span", {}, s.says, s.caution && h("strong", {}, ` ${s.caution}`))),
      h("p", { class: "only-print" }, h("b", {}, `${stepName(s)}: `), s.says, s.caution && h("strong", {}, ` ${s.caution}`)))));
  };

  const stopSheet = (i: number): HTMLElement | null => {
    const test = setup.tests[i];
    if (!test) return null;
    return h("section", { class: "sheet proof", "aria-label": `prove stop ${i + 1}` },
      h("h2", {}, `Prove stop ${i + 1}`), testFigures(test),
      h("div", { class: "columns even" }, h("div", {}, forms[i]!.element, budgetTable(test.budget)), leafTable(i + 1, test.shim_table)));
  };

  const draw = (): void => {
    const held = document.activeElement;
    drawCuts();
    show(host, neighbors(data, setup), h("article", { class: "open-set-up" },
      h("h2", { class: "set-up-title" }, h("span", { class: "set-up-number" }, String(setup.number)), ` ${setup.name}`),
      h("div", { class: "columns" },
        h("div", {}, drawing.element, cutList, h("p", { class: "start-says" }, setup.start_says)),
        h("div", {}, needs(setup), setup.stops_say && h("p", {}, h("b", {}, setup.stops_say)), cautionsBox(setup.cautions))),
      stackTable(setup.stops), h("ul", {}, setup.stops.map((s, i) => h("li", {}, `Stop ${i + 1}: ${s.says}`))),
      setup.stops.map((_, i) => stopSheet(i))));
    if (held instanceof HTMLElement && host.contains(held)) held.focus({ preventScroll: true });
  };

  draw();
  drawing.show(step + 1, setup.steps[step]?.says ?? "");
  return {
    redraw: () => {
      for (const form of forms) form.redraw();
      draw();
    },
    undo: () => {
      drawing.dispose();
      for (const form of forms) form.dispose();
      show(host);
    },
  };
}
