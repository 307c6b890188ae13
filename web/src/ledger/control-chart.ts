// control-chart.ts - the control chart of one size: readings in order, and a way from one to the next by the keyboard.
import { h } from "../dom";
import type { Units } from "../units";
import { leavesText } from "../saw/words";
import { axisUnit, axisValue, tickTexts } from "../units";
import { drawChart, type Chart, type ChartParts } from "../view/chart";
import { paintAbove, paintBelow, type Painted } from "./chart-paint";
import type { ReadSize } from "./model";
import { leafMarks, newest, pointsOf, type Point } from "./points";
import { plural, pointText } from "./words";

export const MOST_POINTS = 200; // as on the printed chart: the newest; the numbers are of all

export interface ControlChart {
  element: HTMLElement;
  // Only now is it in the document, and has a width.   returns  its undo
  draw(): () => void;
  find(found: (p: Point) => boolean): void;
}

export interface ChartAsked {
  size: ReadSize;
  units: Units;
  height: number;
  found: (p: Point) => boolean;
  open: (p: Point) => void; // Enter, or a double click
}

// Everything that is drawn has room: values, what they were, tolerance, limits.
export function span(size: ReadSize, points: readonly Point[]): [number, number] {
  const { target_mm: t, tolerance_mm: tol, limits } = size;
  const all = [t - tol, t + tol, ...points.map((p) => p.mm), ...points.filter((p) => p.corrected).map((p) => p.reading.first_value_mm)];
  if (limits) all.push(limits.lower, limits.upper);
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const pad = (high - low) * 0.08 || 0.01;
  return [low - pad, high + pad];
}

// Numbers below the axis are those of the signals' words: of readings that count.
export function ticks(points: readonly Point[], most: number): number[] {
  const counting = points.filter((p) => p.number !== null);
  const step = Math.max(1, Math.ceil(counting.length / Math.max(1, most)));
  return counting.filter((p) => (p.number! - 1) % step === 0).map((p) => p.x);
}

function partsOf(asked: ChartAsked, painted: Painted, choose: (i: number) => void): ChartParts {
  const { size, units } = asked;
  const { points } = painted;
  const first = points[0]?.x ?? 1;
  const numbers = new Map(points.map((p) => [p.x, p.number]));
  return {
    height: asked.height,
    data: [points.map((p) => p.x), points.map((p) => (p.standing === "counts" ? painted.scaled(p.mm) : null))],
    options: (colors) => ({
      padding: [20, 74, 0, 0],
      legend: { show: false },
      cursor: { points: { show: false }, y: false, x: false, drag: { x: false, y: false, setScale: false } },
      scales: {
        x: { time: false, range: () => [first - 0.7, (points.at(-1)?.x ?? 1) + 0.7] },
        y: { range: () => span(size, points).map(painted.scaled) as [number, number] },
      },
      series: [{}, { stroke: () => colors().soft, width: 1, spanGaps: true, points: { show: false } }],
      axes: [
        {
          stroke: () => colors().soft, grid: { show: false }, ticks: { stroke: () => colors().rule },
          splits: (u) => ticks(points, u.width / 40), values: (_, at) => at.map((x) => String(numbers.get(x) ?? "")), size: 30,
        },
        {
          stroke: () => colors().soft, size: 64, grid: { show: false }, ticks: { stroke: () => colors().rule }, label: axisUnit(units), labelSize: 16,
          labelGap: 0, values: (_, at) => tickTexts(at),
        },
      ],
      hooks: {
        drawClear: [(u) => paintBelow(u, painted, colors())],
        draw: [(u) => paintAbove(u, painted, colors())],
        setCursor: [(u) => { if (u.cursor.event && typeof u.cursor.idx === "number") choose(u.cursor.idx); }],
      },
    }),
  };
}

const MOVES: Record<string, (at: number, last: number) => number> = {
  ArrowRight: (at, last) => Math.min(at + 1, last), ArrowUp: (at, last) => Math.min(at + 1, last),
  ArrowLeft: (at) => Math.max(at - 1, 0), ArrowDown: (at) => Math.max(at - 1, 0),
  PageDown: (at) => Math.max(at - 10, 0), PageUp: (at, last) => Math.min(at + 10, last),
  Home: () => 0, End: (_, last) => last,
};

export function controlChart(asked: ChartAsked): ControlChart {
  const all = pointsOf(asked.size);
  const points = newest(all, MOST_POINTS);
  const painted: Painted = {
    size: asked.size, points, leaves: leafMarks(asked.size, all), found: asked.found, chosen: -1,
    scaled: (mm) => axisValue(mm, asked.units),
    leafText: (mm) => leavesText([mm]),
  };
  let chart: Chart | null = null;
  const last = points.length - 1;
  const canvas = h("div", {
    class: "chart", tabindex: 0, role: "slider", "aria-orientation": "horizontal",
    "aria-label": `Control chart of ${asked.size.name}, ${asked.size.size}: ${plural(points.length, "reading")}; arrow keys go from one to the next, Enter shows it in the table`,
    "aria-valuemin": 1, "aria-valuemax": points.length, "aria-valuenow": points.length,
    "aria-valuetext": points.length > 0 ? pointText(points[last]!, asked.units) : "no readings",
  });
  const told = h("p", { class: "told no-print" }, "Touch or point at a reading, or go through them with the arrow keys.");
  const choose = (i: number): void => {
    const p = points[i];
    if (!p || i === painted.chosen) return;
    painted.chosen = i;
    told.textContent = pointText(p, asked.units);
    canvas.setAttribute("aria-valuenow", String(i + 1));
    canvas.setAttribute("aria-valuetext", told.textContent);
    chart?.redraw();
  };
  const open = (): void => {
    const p = points[painted.chosen];
    if (p) asked.open(p);
  };
  canvas.addEventListener("focus", () => { if (painted.chosen < 0) choose(last); });
  canvas.addEventListener("dblclick", open);
  canvas.addEventListener("keydown", (event) => {
    if (event.key === "Enter") return open();
    const move = MOVES[event.key];
    if (!move) return;
    event.preventDefault();
    choose(move(painted.chosen < 0 ? last : painted.chosen, last));
  });
  const more = all.length > points.length && h("p", {}, `The newest ${MOST_POINTS} of ${all.length} are drawn; the numbers are of all.`);
  return {
    element: h("div", { class: "chart-box" }, canvas, told, more),
    draw: () => {
      const drawn = (chart = drawChart(canvas, partsOf(asked, painted, choose)));
      return () => {
        chart = null;
        drawn.undo();
      };
    },
    find: (found) => {
      painted.found = found;
      chart?.redraw();
    },
  };
}
