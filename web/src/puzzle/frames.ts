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

// The pieces that the step is not about: they are away already, or wait elsewhere for their turn.
export function aside(steps: readonly Step[], time: number, names: readonly string[]): boolean[] {
  const { step, share } = momentOf(time, steps.length);
  const now = steps[step];
  const whole = !now || time <= 0 || (step === steps.length - 1 && share >= 1);
  return names.map((name) => !whole && !now.moves.includes(name) && !now.from.includes(name));
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

// A ball around balls: each piece is one, about its middle.
export function ballAround(balls: readonly Ball[]): Ball {
  if (balls.length === 0) return { middle: [0, 0, 0], radius: 1 };
  const edge = (i: number, to: 1 | -1): number =>
    to * Math.max(...balls.map((b) => to * b.middle[i]! + b.radius));
  const middle = [0, 1, 2].map((i) => (edge(i, 1) + edge(i, -1)) / 2) as Vec3;
  const far = (b: Ball): number => Math.hypot(...b.middle.map((v, i) => v - middle[i]!)) + b.radius;
  return { middle, radius: Math.max(...balls.map(far)) };
}
