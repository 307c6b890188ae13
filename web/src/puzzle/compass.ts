// compass.ts - which way is x, y, z and which way to hold down: a small drawing in the corner of the stage.
import { svg } from "../dom";
import type { Stage } from "../view/stage";
import type { Vec3 } from "./model";

const REACH = 30; // of the drawing, whose middle is the origin
const AXES: Vec3[] = [[1, 0, 0], [0, 1, 0], [0, 0, 1]];

export interface Compass {
  down(direction: Vec3 | null): void;
  undo(): void;
}

export function createCompass(stage: Stage, host: HTMLElement): Compass {
  const arm = (name: string, kind: string | null): { line: SVGLineElement; text: SVGTextElement } => ({
    line: svg("line", { class: kind, x1: 0, y1: 0 }),
    text: svg("text", { class: kind }, name),
  });
  const arms = AXES.map((_, i) => arm("xyz"[i]!, null));
  const weight = arm("down", "down");
  const drawing = svg("svg", { class: "compass", viewBox: "-52 -52 104 104", "aria-hidden": "true" },
    [...arms, weight].flatMap((a) => [a.line, a.text]));
  host.append(drawing);
  let down: Vec3 | null = null;

  const place = ({ line, text }: typeof weight, to: Vec3, stretch: number): void => {
    const [x0, y0] = stage.place([0, 0, 0]);
    const [x1, y1] = stage.place(to);
    const scale = REACH / (Math.hypot(...to) * perUnit());
    const [x, y] = [(x1 - x0) * scale, (y1 - y0) * scale];
    line.setAttribute("x2", String(x * stretch));
    line.setAttribute("y2", String(y * stretch));
    const off = (v: number, room: number): number => v * stretch + (v / Math.max(1, Math.hypot(x, y))) * room;
    text.setAttribute("x", String(off(x, 7 + 3 * (text.textContent ?? "").length)));
    text.setAttribute("y", String(off(y, 9)));
  };
  // Pixels of one lattice unit across the line of sight.
  const perUnit = (): number => {
    const { camera, canvas } = stage;
    return (canvas.clientHeight * camera.zoom) / Math.max(1e-9, camera.top - camera.bottom);
  };
  const draw = (): void => {
    arms.forEach((a, i) => place(a, AXES[i]!, 1));
    weight.line.style.display = weight.text.style.display = down ? "" : "none";
    if (down) place(weight, down, 1.15);
  };
  const off = stage.onDrawn(draw);
  return {
    down: (direction) => {
      if (String(direction) === String(down)) return;
      down = direction;
      stage.draw();
    },
    undo: () => {
      off();
      drawing.remove();
    },
  };
}
