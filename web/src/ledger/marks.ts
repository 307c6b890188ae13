// marks.ts - the shapes of readings: on the canvas of the chart and, the same, in its key.
import { svg } from "../dom";
import type { Point } from "./points";

export type Shape = "dot" | "square" | "cross" | "struck" | "hollow";

export const SHAPE_WORDS: Record<Shape | "ring" | "leaf", string> = {
  dot: "counts",
  square: "part of a signal",
  cross: "outside the tolerance",
  struck: "withdrawn",
  hollow: "before the last leaf",
  ring: "corrected (small line: what it was)",
  leaf: "a leaf was put in",
};

export function shapeOf(p: Point): Shape {
  if (p.standing === "withdrawn") return "struck";
  if (p.standing === "before") return "hollow";
  if (p.outside) return "cross";
  return p.signals.length > 0 ? "square" : "dot";
}

// Each as strokes and fills around the origin, `r` its half width.
export interface Outline {
  path: string; // of SVG, and of Path2D
  filled: boolean;
}

export function outline(shape: Shape, r: number): Outline {
  const circle = `M${-r},0A${r},${r} 0 1 0 ${r},0A${r},${r} 0 1 0 ${-r},0Z`;
  const over = 1.6 * r;
  switch (shape) {
    case "dot":
      return { path: circle, filled: true };
    case "square":
      return { path: `M${-r},${-r}H${r}V${r}H${-r}Z`, filled: true };
    case "cross":
      return { path: `M${-r},${-r}L${r},${r}M${r},${-r}L${-r},${r}`, filled: false };
    case "struck":
      return { path: `${circle}M${-over},${over}L${over},${-over}`, filled: false };
    case "hollow":
      return { path: circle, filled: false };
  }
}

export const SHAPE_COLOR: Record<Shape, "ink" | "warn" | "bad" | "soft"> = {
  dot: "ink", square: "warn", cross: "bad", struck: "soft", hollow: "soft",
};

function picture(...parts: SVGElement[]): SVGElement {
  return svg("svg", { viewBox: "-10 -10 20 20", width: 18, height: 18, "aria-hidden": "true" }, parts);
}

export function keyPicture(shape: Shape | "ring" | "leaf"): SVGElement {
  if (shape === "leaf")
    return picture(svg("path", { d: "M0,-10V10", stroke: "var(--accent)", "stroke-width": 2, "stroke-dasharray": "4 3" }));
  if (shape === "ring")
    return picture(
      svg("path", { d: outline("hollow", 8).path, fill: "none", stroke: "var(--accent)", "stroke-width": 2 }),
      svg("path", { d: outline("dot", 4).path, fill: "var(--ink)" }),
    );
  const { path, filled } = outline(shape, 5);
  const color = `var(--${SHAPE_COLOR[shape]})`;
  return picture(svg("path", { d: path, fill: filled ? color : "none", stroke: color, "stroke-width": shape === "cross" ? 3 : 1.8 }));
}

// Those that this chart has, and no others.
export function shapesIn(points: readonly Point[], leaves: number): (Shape | "ring" | "leaf")[] {
  const seen = new Set<Shape | "ring" | "leaf">(points.map(shapeOf));
  if (points.some((p) => p.corrected)) seen.add("ring");
  if (leaves > 0) seen.add("leaf");
  return (Object.keys(SHAPE_WORDS) as (Shape | "ring" | "leaf")[]).filter((s) => seen.has(s));
}
