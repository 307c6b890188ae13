// year-chart.ts - the play at the ends of the months where the puzzle will live, with what is asked for behind it.
import uPlot from "uplot";
import { h } from "../dom";
import { current } from "../state";
import { axisUnit, axisValue, tickTexts } from "../units";
import { axisLook, colorOf, ground, widthOf } from "./chart";
import type { Asked, Month } from "./model";
import { MONTHS } from "./words";

const HIGH = 260; // pixels

function reachOf(values: readonly number[], marks: readonly number[]): [number, number] {
  let low = Math.min(...values);
  let high = Math.max(...values);
  const span = high - low || 1;
  for (const m of marks)
    if (m > low - span && m < high + span) {
      low = Math.min(low, m);
      high = Math.max(high, m);
    }
  return [low - 0.06 * (high - low), high + 0.06 * (high - low)];
}

//   returns  the chart and its undo
export function yearChart(months: readonly Month[], asked: Asked): { element: HTMLElement; undo: () => void } {
  const { units } = current();
  const to = (mm: number): number => axisValue(mm, units);
  const median = months.map((m) => to(m.play_mm));
  const tight = months.map((m) => to(m.p05_mm));
  const element = h("div", { class: "chart", role: "img", "aria-label": "The play over the year; the table below has its numbers." });
  let plot: uPlot | null = null;
  const draw = (u: uPlot): void => {
    ground(u, { y: to(asked.least_mm) }, { y: to(asked.most_mm) }, colorOf(element, "--good-back"));
    ground(u, {}, { y: to(asked.closes_from_mm) }, colorOf(element, "--bad-back"));
  };
  const build = (width: number, anew: boolean): void => {
    if (plot && !anew) return plot.setSize({ width, height: HIGH });
    plot?.destroy();
    const ink = colorOf(element, "--ink");
    plot = new uPlot(
      {
        width, height: HIGH, legend: { show: false }, cursor: { show: false }, padding: [12, 18, 0, 0],
        scales: {
          x: { time: false, range: [0.7, 12.3] },
          y: { range: () => reachOf([...median, ...tight], [asked.least_mm, asked.most_mm, asked.closes_from_mm].map(to)) },
        },
        axes: [
          { ...axisLook(element), splits: () => months.map((m) => m.month), values: (_u, at) => at.map((m) => (width < 520 && m % 2 === 0 ? "" : (MONTHS[m - 1] ?? ""))) },
          { ...axisLook(element), size: 64, values: (_u, at) => tickTexts(at), label: `play, ${axisUnit(units)}`, labelSize: 20, labelFont: "13px sans-serif" },
        ],
        series: [
          {},
          { label: "middle puzzle", stroke: ink, width: 2.5, points: { show: true, size: 7, fill: ink } },
          { label: "1 in 20 is below", stroke: ink, width: 1.5, dash: [5, 4], points: { show: true, size: 7, fill: colorOf(element, "--sheet") } },
        ],
        hooks: { drawClear: [draw] },
      },
      [months.map((m) => m.month), median, tight],
      element,
    );
  };
  const undoWidth = widthOf(element, build);
  return {
    element,
    undo: () => {
      undoWidth();
      plot?.destroy();
      plot = null;
    },
  };
}
