// tried-box.ts - the histogram, the sliders below it, and what they do: the program answers while they move.
import { post, type Reply } from "../api";
import { h, show } from "../dom";
import { problemBox } from "../view/notice";
import type { Asked, BindingFit, Spread, Tried } from "./model";
import { newestWins } from "./newest-wins";
import { playChart } from "./play-chart";
import { sliders } from "./sliders";
import { barTable } from "./tables";
import { mm, percentText, shareText } from "./words";

// What is remembered of a puzzle's sliders while the view is drawn anew.
export interface Standing {
  mm: number[];
  tried: Tried | null;
}

interface Row {
  name: string;
  of: Spread | Tried;
}

function figures(rows: readonly Row[]): HTMLElement {
  const cell = (text: string): HTMLElement => h("td", { class: "number" }, text);
  return h(
    "div",
    { class: "scroll", tabindex: 0, role: "region", "aria-label": "play in numbers" },
    h(
      "table",
      {},
      h("caption", {}, "Play in numbers"),
      h("thead", {}, h("tr", {}, ["", "1 in 20 is below", "middle puzzle", "1 in 20 is above", "close by hand", "as asked", "the whole batch closes"].map((t, k) =>
        h("th", { scope: "col", class: k > 0 ? "number" : null }, t || h("span", { class: "only-read" }, "which"))))),
      h("tbody", {}, rows.map((r) => h(
        "tr",
        {},
        h("th", { scope: "row" }, r.name),
        cell(mm(r.of.play_mm.p05)), cell(mm(r.of.play_mm.median)), cell(mm(r.of.play_mm.p95)),
        cell(shareText(r.of.closes)), cell(shareText(r.of.within_asked)),
        cell("whole_batch_closes" in r.of ? shareText(r.of.whole_batch_closes) : "not tried"),
      ))),
    ),
  );
}

//   standing  where the sliders stood; kept up to date
//   returns   the box and its undo
export function triedBox(
  batch: string, puzzle: number, fit: BindingFit, asked: Asked, standing: Standing,
): { element: HTMLElement; undo: () => void } {
  const label = `Play of ${fit.puzzle}: as planned the middle puzzle has ${mm(fit.as_planned.play_mm.median)}, as advised ` +
    `${mm(fit.as_advised.play_mm.median)}. The tables below have the numbers.`;
  const chart = playChart(asked, fit.as_planned.bars, fit.as_advised.bars, label);
  const says = h("p", { class: "tried", role: "status" });
  const numbers = h("div", {});
  const rows = (): Row[] => [
    { name: "as planned", of: fit.as_planned },
    { name: "as advised", of: fit.as_advised },
    ...(standing.tried ? [{ name: "as the sliders stand", of: standing.tried }] : []),
  ];
  const draw = (): void => {
    const t = standing.tried;
    chart.tried(t?.bars ?? null);
    show(numbers, figures(rows()));
    show(says, t
      ? [h("strong", {}, percentText(t.closes.share)), " close, ", h("strong", {}, percentText(t.within_asked.share)),
          ` have the play that is asked for; the middle puzzle has ${mm(t.play_mm.median)} (${t.samples} puzzles drawn).`]
      : h("span", { class: "no-print" }, "Move a slider, and see what it does to the play."));
  };
  const asks = newestWins<number[], Reply<Tried>>(
    (allowances_mm) => post<Tried>("/api/fit/try", { batch, puzzle, allowances_mm }),
    (reply) => {
      if (!reply.ok) return show(says, problemBox(reply.problem));
      standing.tried = reply.value;
      draw();
    },
  );
  const set = sliders(fit, standing.mm, (now) => {
    standing.mm = now;
    asks.put(now);
  });
  draw();
  const element = h(
    "div",
    {},
    chart.element,
    h(
      "p",
      { class: "key" },
      h("span", { class: "line planned" }, "as planned"),
      h("span", { class: "line advised" }, "as advised"),
      h("span", { class: "line sliders-line" }, "as the sliders stand"),
      h("span", { class: "sample asked" }, `asked for: ${mm(asked.least_mm)} to ${mm(asked.most_mm)}`),
      h("span", { class: "sample jams" }, `does not close: below ${mm(asked.closes_from_mm)}`),
    ),
    says,
    h("h4", { class: "no-print" }, "Try allowances"),
    set.element,
    numbers,
    h("details", {}, h("summary", {}, "The histograms as tables"),
      h("div", { class: "side-by-side" }, barTable("as planned", fit.as_planned.bars), barTable("as advised", fit.as_advised.bars))),
  );
  return {
    element,
    undo: () => {
      asks.stop();
      chart.undo();
    },
  };
}
