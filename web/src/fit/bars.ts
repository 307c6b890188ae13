// bars.ts - what makes the play uncertain, as bars with their numbers.
import { h } from "../dom";
import type { BindingFit } from "./model";
import { percentText } from "./words";

const TOLD = 0.005; // share: what is less stands together

export function contributionBars(fit: BindingFit): HTMLElement {
  const told = fit.contributions.filter((c) => c.share >= TOLD);
  const most = Math.max(0.01, ...fit.contributions.map((c) => Math.max(c.share, c.with_others)));
  const width = (share: number): string => `width:${((100 * Math.max(0, share)) / most).toFixed(2)}%`;
  return h(
    "div",
    {},
    h(
      "ul",
      { class: "bars", "aria-label": "What makes the play uncertain, by share of its variance" },
      told.map((c) =>
        h(
          "li",
          {},
          h("span", { class: "bar-name" }, c.source),
          h(
            "span",
            { class: "bar-room" },
            h("span", { class: "bar-reach", style: width(c.with_others) }),
            h("span", { class: "bar-fill source", style: width(c.share) }),
          ),
          h("span", { class: "bar-says" }, percentText(c.share)),
        ),
      ),
    ),
    h(
      "p",
      { class: "small" },
      `Bars: the share of the play's variance that a source makes by itself (u = ${percentText(fit.contributions[0]?.u ?? 0)}). ` +
        `Thin line: with all that it does together with others; ${percentText(Math.max(0, fit.together))} is made only together. ` +
        `Sources under ${percentText(TOLD)} are left out.`,
    ),
  );
}
