// size-sheet.ts - one stop or width: what to do, its chart, its signals and numbers.
import { h, svg } from "../dom";
import type { Units } from "../units";
import { controlChart, type ControlChart } from "./control-chart";
import { keyPicture, SHAPE_WORDS, shapesIn } from "./marks";
import type { Light, ReadSize } from "./model";
import { pointsOf, type Point } from "./points";
import { factsOf, LIGHT_WORDS } from "./words";

// Round to go on, pointed to check, eight corners to stop: as At the saw.
function lightShape(light: Light): SVGElement {
  const line = { fill: "none", stroke: "currentColor", "stroke-width": 9, "stroke-linejoin": "round", "stroke-linecap": "round" };
  const parts: Record<Light, SVGElement[]> = {
    go: [svg("circle", { cx: 50, cy: 50, r: 42, ...line }), svg("path", { d: "M30 52 L45 67 L71 35", ...line })],
    watch: [svg("path", { d: "M50 10 L93 86 H7 Z", ...line }), svg("path", { d: "M50 40 V60 M50 73 V74", ...line })],
    stop: [svg("path", { d: "M32 6 H68 L94 32 V68 L68 94 H32 L6 68 V32 Z", ...line }), svg("path", { d: "M30 50 H70", ...line, "stroke-width": 14 })],
    unknown: [svg("circle", { cx: 50, cy: 50, r: 42, ...line, "stroke-dasharray": "14 14" })],
  };
  return svg("svg", { viewBox: "0 0 100 100", width: 38, height: 38, "aria-hidden": "true" }, parts[light]);
}

export function lightBox(light: Light, says: string): HTMLElement {
  // The program's words begin with the word of the light.
  return h("div", { class: "light", "data-light": light }, lightShape(light), h("p", {}, says || LIGHT_WORDS[light]));
}

function signalsOf(size: ReadSize): HTMLElement | null {
  if (size.signals.length === 0) return null;
  const item = (s: ReadSize["signals"][number]): HTMLElement =>
    h("li", {}, h("strong", {}, s.says), s.means && `: usually ${s.means}`, s.check && h("span", { class: "check" }, `First ${s.check}`));
  const n = size.signals.length;
  return h("details", { open: n <= 3 }, h("summary", {}, `${n} ${n === 1 ? "signal" : "signals"}`), h("ol", { class: "signals" }, [...size.signals].reverse().map(item)));
}

export interface SizeSheet {
  element: HTMLElement;
  chart: ControlChart;
}

export interface SheetAsked {
  size: ReadSize;
  number: number; // of the set-up on the cards
  units: Units;
  large: boolean;
  found: (p: Point) => boolean;
  open: (p: Point) => void;
  address: string; // of this size alone
}

export function sizeSheet(asked: SheetAsked): SizeSheet {
  const { size, units } = asked;
  const chart = controlChart({ size, units, height: asked.large ? 380 : 270, found: asked.found, open: asked.open });
  const shapes = shapesIn(pointsOf(size), size.leaves.length);
  const key = h("ul", { class: "key" }, shapes.map((s) => h("li", {}, keyPicture(s), SHAPE_WORDS[s])));
  const facts = h("dl", { class: "facts" }, factsOf(size, units).map(([name, value]) => h("div", {}, h("dt", {}, name), h("dd", {}, value))));
  const title = h("h2", {}, h("a", { href: asked.address }, `${asked.number}. ${size.name}, ${size.size}`));
  const element = h("section", { class: "sheet size-sheet", "aria-label": `${size.name}, ${size.size}` },
    title, lightBox(size.light, size.says), chart.element, key, signalsOf(size), facts);
  return { element, chart };
}
