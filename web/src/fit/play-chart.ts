// play-chart.ts - how many puzzles have how much play: as planned, as advised, and as the sliders stand.
import uPlot from "uplot";
import { h } from "../dom";
import { current } from "../state";
import { axisUnit, axisValue, tickTexts } from "../units";
import { axisLook, colorOf, ground, mark, widthOf } from "./chart";
import type { Asked, Bars } from "./model";
import { corners, joined, reach } from "./outline";

const HIGH = 280; // pixels

function padded([low, high]: [number, number]): [number, number] {
  const by = 0.02 * (high - low);
  return [low - by, high + by];
}

export interface PlayChart {
  element: HTMLElement;
  tried: (bars: Bars | null) => void;
  undo: () => void;
}

export function playChart(asked: Asked, planned: Bars, advised: Bars, label: string): PlayChart {
  const { units } = current();
  const to = (mm: number): number => axisValue(mm, units);
  const element = h("div", { class: "chart", role: "img", "aria-label": label });
  let bars: Bars | null = null;
  let plot: uPlot | null = null;
  const inUnits = (b: Bars): [number, number][] => corners(b).map(([x, y]) => [to(x), y]);
  const outlines = (): [number, number][][] => [inUnits(planned), inUnits(advised), bars ? inUnits(bars) : []];
  const marks = [asked.play_mm, asked.least_mm, asked.most_mm, asked.closes_from_mm].map(to);

  const draw = (u: uPlot): void => {
    ground(u, { x: to(asked.least_mm) }, { x: to(asked.most_mm) }, colorOf(element, "--good-back"));
    ground(u, {}, { x: to(asked.closes_from_mm) }, colorOf(element, "--bad-back"));
    mark(u, to(asked.play_mm), "asked for", colorOf(element, "--good"), [], 0);
    mark(u, to(asked.closes_from_mm), "jams below", colorOf(element, "--bad"), [2, 3], 1);
  };
  const build = (width: number, anew: boolean): void => {
    if (plot && !anew) return plot.setSize({ width, height: HIGH });
    plot?.destroy();
    const soft = colorOf(element, "--soft");
    const line = (name: string, color: string, wide: number, dash: number[], fill?: string): uPlot.Series => ({
      label: name, stroke: color, width: wide, dash, points: { show: false }, spanGaps: true,
      ...(fill ? { fill } : {}),
    });
    plot = new uPlot(
      {
        width, height: HIGH, legend: { show: false }, cursor: { show: false }, padding: [8, 30, 0, 4],
        scales: { x: { time: false, range: () => padded(reach(outlines(), marks)) }, y: { range: (_u, _low, high) => [0, (high || 1) * 1.22] } },
        axes: [
          { ...axisLook(element), space: 64, values: (_u, at) => tickTexts(at), label: `play, ${axisUnit(units)}`, labelSize: 22, labelFont: "13px sans-serif" },
          { ...axisLook(element), show: false },
        ],
        series: [
          {},
          line("as planned", soft, 1.5, [], colorOf(element, "--planned-fill")),
          line("as advised", colorOf(element, "--ink"), 2, [6, 4]),
          line("as the sliders stand", colorOf(element, "--accent"), 3, []),
        ],
        hooks: { drawClear: [draw] },
      },
      joined(outlines()) as uPlot.AlignedData,
      element,
    );
  };
  const undoWidth = widthOf(element, build);
  return {
    element,
    tried: (now) => {
      bars = now;
      plot?.setData(joined(outlines()) as uPlot.AlignedData);
    },
    undo: () => {
      undoWidth();
      plot?.destroy();
      plot = null;
    },
  };
}
