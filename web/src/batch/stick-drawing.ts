// stick-drawing.ts - one stick to scale: an SVG whose units are millimeters of wood.
import { h, svg } from "../dom";
import type { CutStick, MiterAlong, SawnBlock, Sticks } from "./model";

export interface Run {
  number: number;
  shape: string;
  test: boolean;
  count: number;
}

export function blockName(b: SawnBlock): string {
  const shape = b.hand ? `${b.shape}, ${b.hand}-handed` : b.shape;
  return b.test ? `test piece, ${shape}` : shape;
}

// Equal blocks in a row.
export function runsOf(blocks: readonly SawnBlock[]): Run[] {
  const runs: Run[] = [];
  for (const b of blocks) {
    const last = runs.at(-1);
    if (last && last.number === b.number && last.test === b.test) last.count += 1;
    else runs.push({ number: b.number, shape: blockName(b), test: b.test, count: 1 });
  }
  return runs;
}

export function runText(r: Run): string {
  return `${r.count} × ${r.shape} (set-up ${r.number})`;
}

type Corner = readonly [number, number];

// A sawn end from its upper corner line over the one towards the eye to the lower one.
function endLine(m: MiterAlong, high: number): Corner[] {
  return [[m.upper_mm, 0], [m.eye_mm, high / 2], [m.lower_mm, high]];
}

export function outline(near: readonly Corner[], far: readonly Corner[]): string {
  return [...near, ...[...far].reverse()].map(([x, y]) => `${x.toFixed(3)},${y.toFixed(3)}`).join(" ");
}

function shifted(line: readonly Corner[], by: number): Corner[] {
  return line.map(([x, y]) => [x + by, y] as const);
}

function square(at: number, high: number): Corner[] {
  return [[at, 0], [at, high / 2], [at, high]];
}

// Where a number has the most room: at the upper corner line, the one to the eye, or the lower one.
export function roomiest(b: Pick<SawnBlock, "near" | "far">, high: number): { x: number; y: number } {
  const { near, far } = b;
  const levels = [
    { from: near.eye_mm, to: far.eye_mm, y: 0.5 * high },
    { from: near.upper_mm, to: far.upper_mm, y: 0.22 * high },
    { from: near.lower_mm, to: far.lower_mm, y: 0.78 * high },
  ];
  const best = levels.reduce((a, l) => (l.to - l.from > a.to - a.from + 1e-6 ? l : a));
  return { x: (best.from + best.to) / 2, y: best.y };
}

function blockShape(b: SawnBlock, high: number): SVGElement {
  const at = roomiest(b, high);
  return svg(
    "g",
    { class: b.test ? "block test" : "block" },
    svg("polygon", { points: outline(endLine(b.near, high), endLine(b.far, high)) }),
    b.test && svg("polygon", { class: "hatch", points: outline(endLine(b.near, high), endLine(b.far, high)) }),
    svg("line", { x1: b.near.eye_mm, x2: b.far.eye_mm, y1: high / 2, y2: high / 2 }),
    svg("text", { x: at.x, y: at.y, "text-anchor": "middle", "dominant-baseline": "central" }, b.number),
  );
}

export interface StickPicture {
  element: SVGSVGElement;
  choose: (block: number | null) => void;
}

// One tab stop a stick; the arrow keys go from block to block, as the mouse does.
//   longest  mm of the longest stick: all are drawn to one scale
//   told     the block that is looked at, or null
export function stickPicture(
  stick: CutStick, all: Sticks, longest: number, woodClass: string, label: string,
  told: (block: number | null) => void,
): StickPicture {
  const high = all.across_corners_mm;
  const first = stick.blocks[0];
  const last = stick.blocks.at(-1);
  const blocks = stick.blocks.map((b) => blockShape(b, high));
  const headEnd = first ? shifted(endLine(first.near, high), -all.kerf_along_mm) : square(all.head_mm, high);
  const leftFrom = last ? shifted(endLine(last.far, high), all.kerf_along_mm) : headEnd;
  let chosen: number | null = null;
  const choose = (k: number | null): void => {
    if (k === chosen) return;
    if (chosen !== null) blocks[chosen]?.classList.remove("chosen");
    if (k !== null) blocks[k]?.classList.add("chosen");
    chosen = k;
    told(k);
  };
  const key = (event: KeyboardEvent): void => {
    const steps: Record<string, number> = {
      ArrowRight: (chosen ?? -1) + 1, ArrowLeft: (chosen ?? blocks.length) - 1, Home: 0, End: blocks.length - 1,
    };
    const to = steps[event.key];
    if (event.key === "Escape") choose(null);
    else if (to !== undefined && blocks.length > 0) choose(Math.min(blocks.length - 1, Math.max(0, to)));
    else return;
    event.preventDefault();
  };
  blocks.forEach((b, k) => b.addEventListener("pointerenter", () => choose(k)));
  const element = svg(
    "svg",
    {
      class: `stick ${woodClass}`, viewBox: `-1 -1 ${longest + 2} ${high + 2}`, tabindex: 0, role: "img",
      "aria-label": `${label}. Arrow keys go from block to block.`,
      onkeydown: key, onblur: () => choose(null), onpointerleave: () => choose(null),
    },
    svg("polygon", { class: "rest", points: outline(square(0, high), headEnd) }),
    svg("polygon", { class: "rest", points: outline(leftFrom, square(stick.length_mm, high)) }),
    blocks,
  );
  return { element, choose };
}

// Patterns that every picture of the page may fill with.
export function patterns(): HTMLElement {
  return h(
    "div",
    { class: "patterns", "aria-hidden": "true" },
    svg(
      "svg",
      { width: 0, height: 0 },
      svg(
        "pattern",
        { id: "hatch-test", width: 4, height: 4, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
        svg("line", { x1: 0, y1: 0, x2: 0, y2: 4 }),
      ),
    ),
  );
}
