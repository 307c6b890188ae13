import { expect, it } from "vitest";
import { aside, ballAround, ballBetween, momentOf, shiftAt } from "../../src/puzzle/frames";
import type { Step, Vec3 } from "../../src/puzzle/model";

function step(moves: string[], from: string[], before: Vec3[], after: Vec3[], also: Step["also"] = []): Step {
  return {
    moves, from, also, before, after, direction: [1, 0, 0], distance: "free", hands: 2, grips: [], down: null, falls: [],
    like: null, mirrored: false, says: "",
  };
}

const names = ["left", "middle", "right"];
const steps = [
  step(["left"], ["middle"], [[0, 0, 0], [0, 0, 0], [0, 0, 0]], [[-3, 0, 0], [0, 0, 0], [0, 6, 0]],
    [{ moves: ["right"], direction: [0, 1, 0] }]),
  step(["middle"], ["right"], [[-3, 0, 0], [0, 0, 0], [0, 6, 0]], [[-3, 0, 0], [0, 0, 8], [0, 6, 0]]),
];

it("at a whole number of steps every piece stands where the key frame has it", () => {
  names.forEach((_, i) => {
    expect(shiftAt(steps, 0, i)).toEqual(steps[0]!.before[i]);
    expect(shiftAt(steps, 1, i)).toEqual(steps[0]!.after[i]);
    expect(shiftAt(steps, 2, i)).toEqual(steps[1]!.after[i]);
  });
});

it("groups that move at the same time are at the same share of their ways at every moment", () => {
  for (let time = 0; time <= 1; time += 1 / 16) {
    const left = shiftAt(steps, time, 0);
    const right = shiftAt(steps, time, 2);
    expect(left[0] / -3).toBeCloseTo(time, 12);
    expect(right[1] / 6).toBeCloseTo(time, 12);
    expect([left[1], left[2], right[0], right[2]]).toEqual([0, 0, 0, 0].map((v) => expect.closeTo(v, 12)));
  }
});

it("nothing moves before the beginning and after the end", () => {
  expect(momentOf(-1, 2)).toEqual({ step: 0, share: 0 });
  expect(momentOf(9, 2)).toEqual({ step: 1, share: 1 });
  expect(shiftAt(steps, -1, 0)).toEqual([0, 0, 0]);
  expect(shiftAt(steps, 9, 1)).toEqual([0, 0, 8]);
  expect(shiftAt([], 0.5, 0)).toEqual([0, 0, 0]);
});

it("a piece is set aside only while a step is about others", () => {
  expect(aside(steps, 0, names)).toEqual([false, false, false]);
  expect(aside(steps, 0.5, names), "moved along by the same step").toEqual([false, false, false]);
  expect(aside(steps, 1.5, names), "parted in the step before").toEqual([true, false, false]);
  expect(aside(steps, 2, names), "all lie free").toEqual([false, false, false]);
});

it("the ball around bodies holds every corner and touches one", () => {
  const bodies = [
    { xyz: [0, 0, 0, 1, 0, 0, 0, 2, 0], shift: [0, 0, 0] as Vec3 },
    { xyz: [0, 0, 0, 0, 0, 3], shift: [4, 0, -1] as Vec3 },
  ];
  const ball = ballAround(bodies);
  const far = bodies.flatMap(({ xyz, shift }) =>
    [0, 3, 6].filter((i) => i < xyz.length).map((i) => Math.hypot(...[0, 1, 2].map((k) => xyz[i + k]! + shift[k]! - ball.middle[k]!))));
  expect(Math.max(...far)).toBeCloseTo(ball.radius, 12);
  expect(ball.middle).toEqual([2, 1, 0.5]);
  expect(ballAround([]).radius).toBeGreaterThan(0);
});

it("the eye rests on the one key frame at its moment and on the other at its own", () => {
  const a = { middle: [0, 0, 0] as Vec3, radius: 2 };
  const b = { middle: [1, 2, 4] as Vec3, radius: 6 };
  expect(ballBetween(a, b, 0)).toEqual(a);
  expect(ballBetween(a, b, 1)).toEqual(b);
  expect(ballBetween(a, b, 0.25)).toEqual({ middle: [0.25, 0.5, 1], radius: 3 });
});
