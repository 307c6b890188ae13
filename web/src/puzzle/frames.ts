// frames.ts - where every piece is drawn at a moment of the take-apart. Time counts steps: 2.5 is half through the third.
import type { Step, Vec3 } from "./model";

export interface Moment {
  step: number; // the one under way, or about to begin; the last one at the end
  share: number; // of it that is done, 0 to 1
}

export function momentOf(time: number, steps: number): Moment {
  if (steps === 0) return { step: 0, share: 0 };
  const held = Math.min(Math.max(time, 0), steps);
  const step = Math.min(Math.floor(held), steps - 1);
  return { step, share: held - step };
}

// Between its two key frames every piece goes straight and all go together, so a move of several pieces at once stays one.
export function shiftAt(steps: readonly Step[], time: number, piece: number): Vec3 {
  const { step, share } = momentOf(time, steps.length);
  const a = steps[step]?.before[piece] ?? [0, 0, 0];
  const b = steps[step]?.after[piece] ?? [0, 0, 0];
  const between = (i: 0 | 1 | 2): number => a[i] + (b[i] - a[i]) * share;
  return [between(0), between(1), between(2)];
}

// Every piece that a step is about: those that move, and those held.
export function partsOf(step: Step): string[] {
  return [...step.moves, ...(step.also ?? []).flatMap((group) => group.moves), ...step.from];
}

// The pieces that the step is not about: they are away already, or wait elsewhere for their turn.
export function aside(steps: readonly Step[], time: number, names: readonly string[]): boolean[] {
  const { step, share } = momentOf(time, steps.length);
  const now = steps[step];
  const whole = !now || time <= 0 || (step === steps.length - 1 && share >= 1);
  const about = new Set(now ? partsOf(now) : []);
  return names.map((name) => !whole && !about.has(name));
}

export interface Ball {
  middle: Vec3;
  radius: number;
}

// The ball that the eye rests on: between those of the two key frames, so that the picture never jumps within a step.
export function ballBetween(a: Ball, b: Ball, share: number): Ball {
  const mix = (x: number, y: number): number => x + (y - x) * share;
  return {
    middle: [0, 1, 2].map((i) => mix(a.middle[i]!, b.middle[i]!)) as Vec3,
    radius: mix(a.radius, b.radius),
  };
}

// A ball around bodies: about the middle of the box they fill.
//   shift   of each body
export function ballAround(bodies: readonly { xyz: readonly number[]; shift: Vec3 }[]): Ball {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  const each = (take: (v: number, axis: number) => void): void => {
    for (const { xyz, shift } of bodies) xyz.forEach((v, i) => take(v + shift[i % 3]!, i % 3));
  };
  each((v, axis) => {
    low[axis] = Math.min(low[axis]!, v);
    high[axis] = Math.max(high[axis]!, v);
  });
  if (low[0] === Infinity) return { middle: [0, 0, 0], radius: 1 };
  const middle = low.map((v, axis) => (v + high[axis]!) / 2) as Vec3;
  let square = 0;
  let far = 0;
  each((v, axis) => {
    square = (axis === 0 ? 0 : square) + (v - middle[axis]!) ** 2;
    if (axis === 2) far = Math.max(far, square);
  });
  return { middle, radius: Math.sqrt(far) };
}
