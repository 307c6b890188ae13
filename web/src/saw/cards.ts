// cards.ts - every set-up of the batch as a card.
import { h } from "../dom";
import { hashOf } from "../router";
import { current } from "../state";
import { lengthText, smallText } from "../units";
import type { SetUp, SetUps, Stop } from "./model";
import { contactText, sumOf, woodsText } from "./words";

function stopLines(setup: SetUp, stop: Stop, i: number): HTMLElement {
  const { units } = current();
  const test = setup.tests[i];
  return h(
    "div",
    { class: "card-stop" },
    h("h3", {}, `Stop ${i + 1}: ${contactText(stop)}`),
    h("p", {}, h("b", { class: "figure" }, lengthText(stop.stack_total_mm, units, 3)), ` = ${sumOf(stop.stack)}`),
    test && h("p", {}, `Test block ${lengthText(test.across_flats_mm, units, 3)} \u00b1 ${smallText(test.tolerance_mm, units)} across flats`),
  );
}

function card(setup: SetUp): HTMLElement {
  return h(
    "article",
    { class: "sheet card set-up-card" },
    h("h2", {}, h("a", { href: hashOf({ view: "saw", part: setup.id }) }, h("span", { class: "set-up-number" }, String(setup.number)), ` ${setup.name}`)),
    h("p", { class: "card-blocks" }, h("b", {}, `${setup.blocks} blocks`), `, ${setup.cuts.length === 1 ? "one cut" : `${setup.cuts.length} cuts`} each`),
    h("ul", { class: "woods" }, woodsText(setup).map((w) => h("li", {}, w))),
    setup.stops.map((stop, i) => stopLines(setup, stop, i)),
    h("p", { class: "row no-print" },
      h("a", { class: "as-button", href: hashOf({ view: "saw", part: setup.id }) }, "Open"),
      h("a", { class: "as-button main", href: hashOf({ view: "at-saw", part: setup.id, query: { stop: "1" } }) }, "Take it to the saw")),
  );
}

export function cardsOf(data: SetUps): HTMLElement {
  return h("div", { class: "set-up-cards" }, data.setups.map(card));
}

export function cautionsBox(cautions: readonly string[]): HTMLElement | null {
  if (cautions.length === 0) return null;
  return h("aside", { class: "caution", "aria-label": "usual cautions" }, h("ul", {}, cautions.map((c) => h("li", {}, c))));
}
