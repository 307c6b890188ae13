// turning.ts - turns the eye about what it looks at: a step at an arrow key, or within a moment to a given side.
import { Vector3 } from "three";

const STEP = Math.PI / 24; // of an arrow key
const SECONDS = 0.35;
const STEEPEST = 0.98; // the eye never stands right above: the picture would have no up

// A direction's turn by an arrow key, about the vertical or about the eye's horizontal.
export function turned(offset: Vector3, key: string): Vector3 | null {
  const up = new Vector3(0, 0, 1);
  const side = new Vector3().crossVectors(up, offset).normalize();
  if (key === "ArrowLeft") return offset.clone().applyAxisAngle(up, -STEP);
  if (key === "ArrowRight") return offset.clone().applyAxisAngle(up, STEP);
  const tilt = key === "ArrowUp" ? -STEP : key === "ArrowDown" ? STEP : 0;
  if (tilt === 0) return null;
  const to = offset.clone().applyAxisAngle(side, tilt);
  return Math.abs(to.clone().normalize().z) > 0.995 ? offset : to;
}

export interface Turn {
  to(side: Vector3): void;
  stop(): void;
}

//   eye   where the eye stands now, seen from what it looks at
//   look  puts it elsewhere
export function createTurn(eye: () => Vector3, look: (eye: Vector3) => void): Turn {
  let waiting = 0;
  const stop = (): void => {
    cancelAnimationFrame(waiting);
    waiting = 0;
  };
  return {
    stop,
    to: (side) => {
      stop();
      const end = side.clone().normalize();
      if (Math.abs(end.z) > STEEPEST) end.set(end.x + 0.15, end.y + 0.1, end.z).normalize();
      if (window.matchMedia("(prefers-reduced-motion: reduce)").matches) return look(end);
      const from = eye().normalize();
      const axis = new Vector3().crossVectors(from, end);
      if (axis.lengthSq() < 1e-9) axis.set(0, 0, 1);
      const angle = from.angleTo(end);
      const begun = performance.now();
      const tick = (now: number): void => {
        const share = Math.min(1, Math.max(0, (now - begun) / 1000 / SECONDS));
        look(from.clone().applyAxisAngle(axis.normalize(), angle * share * (2 - share)));
        waiting = share < 1 ? requestAnimationFrame(tick) : 0;
      };
      waiting = requestAnimationFrame(tick);
    },
  };
}
