// drawing.ts - one cut in space: stick, cradle, stop, gauge blocks, blade, as they stand while it is made.
import { Vector3 } from "three";
import { h, show } from "../dom";
import { problemBox } from "../view/notice";
import { createStage, type Body, type BodyLook, type Stage } from "../view/stage";
import { askDrawing } from "./ask";
import type { CutDrawing } from "./model";

const LOOKS: Record<string, BodyLook> = {
  kept: { color: 0xd9a566 },
  "stick beyond": { color: 0xcdb48a, opacity: 0.5 },
  "off-cut": { color: 0xece0c8, opacity: 0.45 },
  kerf: { color: 0xc2452f, opacity: 0.55 },
  blade: { color: 0x8d8f91, opacity: 0.35 },
  cradle: { color: 0x9aa3a6, opacity: 0.22 },
  stop: { color: 0x7a5230 },
  "back stop": { color: 0x6e6a64 },
  "gauge block": { color: 0x4f7f99 },
};
const OTHER: BodyLook = { color: 0x888888 };

export interface Drawing {
  element: HTMLElement;
  show(step: number, says: string): void; // step from 1
  dispose(): void;
}

function legend(drawing: CutDrawing): HTMLElement {
  const whats = [...new Set(drawing.bodies.map((b) => b.what))];
  const swatch = (what: string): HTMLElement => {
    const { color, opacity } = LOOKS[what] ?? OTHER;
    const css = `background: #${color.toString(16).padStart(6, "0")}; opacity: ${Math.max(0.35, opacity ?? 1)}`;
    return h("li", {}, h("span", { class: "body-swatch", style: css }), what);
  };
  return h("ul", { class: "body-legend" }, whats.map(swatch));
}

interface Label {
  at: Vector3;
  tag: HTMLElement;
}

// Each label at its place; where two would lie on one another the lower one gives way.
function placeLabels(stage: Stage, layer: HTMLElement, labels: readonly Label[]): void {
  const { clientWidth: wide, clientHeight: high } = layer;
  const boxes = labels.map(({ at, tag }) => {
    const p = at.clone().project(stage.camera);
    const half = tag.offsetWidth / 2;
    const x = Math.min(Math.max(((p.x + 1) / 2) * wide, half), wide - half);
    tag.hidden = Math.abs(p.x) > 1 || Math.abs(p.y) > 1;
    return { tag, half, x, y: ((1 - p.y) / 2) * high };
  });
  boxes.sort((a, b) => a.y - b.y);
  boxes.forEach((box, i) => {
    for (const above of boxes.slice(0, i))
      if (Math.abs(above.x - box.x) < above.half + box.half) box.y = Math.max(box.y, above.y + box.tag.offsetHeight + 2);
    box.tag.style.transform = `translate(${box.x - box.half}px, ${box.y - box.tag.offsetHeight / 2}px)`;
  });
}

export function cutDrawing(batch: string, setup: string): Drawing {
  const box = h("div", { class: "stage cut-stage" });
  const below = h("div", { class: "below-stage" });
  const labels = h("div", { class: "stage-labels", "aria-hidden": "true" });
  let stage: Stage | null = null;
  let bodies: Body[] = [];
  let placed: Label[] = [];
  let asking = new AbortController();
  let waiting = 0;
  let framed = false;

  const place = (): void => {
    waiting = 0;
    if (stage) placeLabels(stage, labels, placed);
  };
  const soon = (): void => {
    if (waiting === 0 && stage) waiting = requestAnimationFrame(place);
  };
  const observer = new ResizeObserver(() => soon());
  const turning = ["pointermove", "wheel", "keydown"] as const;

  const draw = (drawing: CutDrawing, says: string): void => {
    stage ??= createStage(box, "The cut");
    stage.canvas.setAttribute("aria-label", `${says}. Arrow keys turn the drawing, plus and minus bring it nearer.`);
    for (const body of bodies) body.remove();
    const { low, high } = drawing.look_at;
    const frame = stage.add({ xyz: [...low, ...high], tri: [0, 1, 1], edges: [] }, OTHER);
    stage.frame(framed ? undefined : [0.45, -1, 0.75]);
    frame.remove();
    framed = true;
    bodies = drawing.bodies.map((b) => stage!.add(b.mesh, LOOKS[b.what] ?? OTHER));
    placed = drawing.labels.map((l) => ({ at: new Vector3(...l.at), tag: h("span", {}, l.say) }));
    show(labels, placed.map((p) => p.tag));
    box.append(labels);
    show(below, legend(drawing));
    soon();
  };

  for (const name of turning) box.addEventListener(name, soon);
  observer.observe(box);

  const open = async (step: number, says: string): Promise<void> => {
    asking.abort();
    asking = new AbortController();
    const mine = asking.signal;
    const reply = await askDrawing(batch, setup, step, mine).catch(() => null);
    if (!reply || mine.aborted) return;
    if (reply.ok) draw(reply.value, says);
    else show(below, problemBox(reply.problem, () => void open(step, says)));
  };

  return {
    element: h("div", { class: "no-print" }, box, below),
    show: (step, says) => void open(step, says),
    dispose: () => {
      asking.abort();
      observer.disconnect();
      if (waiting) cancelAnimationFrame(waiting);
      for (const name of turning) box.removeEventListener(name, soon);
      stage?.dispose();
      stage = null;
    },
  };
}
