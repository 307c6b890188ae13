// chart-paint.ts - what the control chart draws below and above its line of readings.
import type uPlot from "uplot";
import type { Colors } from "../view/chart";
import type { ReadSize } from "./model";
import { outline, SHAPE_COLOR, shapeOf } from "./marks";
import { spread, type LeafMark, type Point } from "./points";

export interface Painted {
  size: ReadSize;
  points: readonly Point[];
  leaves: readonly LeafMark[];
  found: (p: Point) => boolean; // others are drawn faintly
  chosen: number; // index into points; -1: none
  scaled: (mm: number) => number; // in the unit of the axis
  leafText: (mm: number) => string;
}

interface Brush {
  c: CanvasRenderingContext2D;
  px: number; // canvas pixels in a CSS pixel
  x: (at: number) => number;
  y: (mm: number) => number;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

function brushOf(u: uPlot, scaled: Painted["scaled"]): Brush {
  const { left, top, width, height } = u.bbox;
  return {
    c: u.ctx, px: devicePixelRatio || 1,
    x: (at) => u.valToPos(at, "x", true), y: (mm) => u.valToPos(scaled(mm), "y", true),
    left, top, right: left + width, bottom: top + height,
  };
}

function line(b: Brush, from: [number, number], to: [number, number], color: string, width: number, dash: number[] = []): void {
  b.c.beginPath();
  b.c.setLineDash(dash.map((d) => d * b.px));
  b.c.strokeStyle = color;
  b.c.lineWidth = width * b.px;
  b.c.moveTo(...from);
  b.c.lineTo(...to);
  b.c.stroke();
  b.c.setLineDash([]);
}

const FONT = '"Noto Sans", "DejaVu Sans", sans-serif';

function text(b: Brush, say: string, x: number, y: number, color: string, align: CanvasTextAlign = "left"): void {
  b.c.font = `${12 * b.px}px ${FONT}`;
  b.c.fillStyle = color;
  b.c.textAlign = align;
  b.c.textBaseline = "middle";
  b.c.fillText(say, x, y);
}

// The control limits are of the readings that count: they begin with the first of those.
function limitsFrom(b: Brush, p: Painted): number {
  const first = p.points.find((one) => one.standing === "counts");
  return first ? Math.max(b.left, b.x(first.x - 0.5)) : b.left;
}

export function paintBelow(u: uPlot, p: Painted, colors: Colors): void {
  const b = brushOf(u, p.scaled);
  const { target_mm: wanted, tolerance_mm: tolerance, limits } = p.size;
  const [high, low] = [b.y(wanted + tolerance), b.y(wanted - tolerance)];
  b.c.save();
  b.c.fillStyle = colors.goodBack;
  b.c.fillRect(b.left, high, b.right - b.left, low - high);
  for (const y of [high, low]) line(b, [b.left, y], [b.right, y], colors.good, 1.5);
  line(b, [b.left, b.y(wanted)], [b.right, b.y(wanted)], colors.good, 1, [8, 3]);
  const lines: [number, string, string][] = [
    [b.y(wanted), "wanted", colors.good], [high, "tolerance", colors.good], [low, "tolerance", colors.good],
  ];
  if (limits) {
    const from = limitsFrom(b, p);
    line(b, [from, b.y(limits.center)], [b.right, b.y(limits.center)], colors.accent, 1.5);
    for (const mm of [limits.lower, limits.upper]) line(b, [from, b.y(mm)], [b.right, b.y(mm)], colors.accent, 1.5, [3, 3]);
    lines.push([b.y(limits.center), "mean", colors.accent], [b.y(limits.upper), "limit", colors.accent], [b.y(limits.lower), "limit", colors.accent]);
  }
  const at = spread(lines.map(([y]) => y), 14 * b.px, b.bottom);
  lines.forEach(([, say, color], i) => text(b, say, b.right + 6 * b.px, at[i]!, color));
  b.c.restore();
}

function paintLeaves(b: Brush, p: Painted, colors: Colors): void {
  for (const leaf of p.leaves) {
    const x = b.x(leaf.x);
    if (x < b.left || x > b.right) continue;
    line(b, [x, b.top], [x, b.bottom], colors.accent, 2, [4, 3]);
    const side = x > (b.left + b.right) / 2 ? "right" : "left";
    text(b, p.leafText(leaf.thickness_mm), x + (side === "left" ? 5 : -5) * b.px, b.top - 8 * b.px, colors.accent, side);
  }
}

function paintPoint(b: Brush, p: Painted, point: Point, colors: Colors): void {
  const [x, y] = [b.x(point.x), b.y(point.mm)];
  const shape = shapeOf(point);
  const color = colors[SHAPE_COLOR[shape]];
  const { path, filled } = outline(shape, p.points.length > 80 ? 3 : 4.5);
  b.c.globalAlpha = p.found(point) ? 1 : 0.25;
  if (point.corrected) {
    const was = b.y(point.reading.first_value_mm);
    line(b, [x, was], [x, y], colors.accent, 1, [2, 2]);
    line(b, [x - 5 * b.px, was], [x + 5 * b.px, was], colors.accent, 2);
  }
  b.c.save();
  b.c.translate(x, y);
  b.c.scale(b.px, b.px);
  b.c.fillStyle = b.c.strokeStyle = color;
  b.c.lineWidth = shape === "cross" ? 3 : 1.8;
  const mark = new Path2D(path);
  if (filled) b.c.fill(mark);
  else b.c.stroke(mark);
  if (point.corrected) {
    b.c.strokeStyle = colors.accent;
    b.c.lineWidth = 2;
    b.c.stroke(new Path2D(outline("hollow", 8).path));
  }
  b.c.restore();
  b.c.globalAlpha = 1;
}

function paintChosen(b: Brush, point: Point, colors: Colors): void {
  const [x, y] = [b.x(point.x), b.y(point.mm)];
  line(b, [x, b.top], [x, b.bottom], colors.focus, 1);
  b.c.beginPath();
  b.c.strokeStyle = colors.focus;
  b.c.lineWidth = 3 * b.px;
  b.c.arc(x, y, 11 * b.px, 0, 2 * Math.PI);
  b.c.stroke();
}

export function paintAbove(u: uPlot, p: Painted, colors: Colors): void {
  const b = brushOf(u, p.scaled);
  b.c.save();
  paintLeaves(b, p, colors);
  b.c.beginPath();
  b.c.rect(b.left, b.top - 12 * b.px, b.right - b.left, b.bottom - b.top + 24 * b.px);
  b.c.clip();
  for (const point of p.points) paintPoint(b, p, point, colors);
  const chosen = p.points[p.chosen];
  if (chosen) paintChosen(b, chosen, colors);
  b.c.restore();
}
