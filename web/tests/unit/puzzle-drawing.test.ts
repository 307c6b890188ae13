import { Color } from "three";
import { describe, expect, it } from "vitest";
import { shade, showingSide } from "../../src/puzzle/looks";
import { faceMesh, faceOfTriangle } from "../../src/puzzle/build/workpiece";
import { blockShifts } from "../../src/puzzle/spread";
import type { GluedFace, Vec3 } from "../../src/puzzle/model";

// A tetrahedron: corners, and triangles counter-clockwise from outside.
const corners: Vec3[] = [[0, 0, 0], [2, 0, 0], [0, 2, 0], [0, 0, 2]];
const sides = [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]];
const mesh = { xyz: corners.flat(), tri: sides.flat(), edges: [] };
const faces: GluedFace[] = sides.map((loop, i) => ({ face: `side ${i}`, polygon: loop.map((k) => corners[k]!), free: true, area_mm2: null }));

it("a triangle under the pointer belongs to the face that it lies in", () => {
  sides.forEach((_, t) => expect(faceOfTriangle(faces, mesh, t)?.face).toBe(`side ${t}`));
  expect(faceOfTriangle([faces[3]!], mesh, 0)).toBeNull();
});

it("a marked face covers its polygon once, facing the same way", () => {
  const square: Vec3[] = [[0, 0, 1], [2, 0, 1], [2, 2, 1], [0, 2, 1]];
  const { tri, xyz } = faceMesh(square);
  let twice = 0;
  for (let i = 0; i < tri.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => xyz.slice(3 * tri[i + k]!, 3 * tri[i + k]! + 3) as Vec3);
    twice += (b![0] - a![0]) * (c![1] - a![1]) - (b![1] - a![1]) * (c![0] - a![0]);
  }
  expect(twice).toBe(8); // counter-clockwise seen from above, as the polygon
});

it("a body is looked at from the side of the face that is asked for", () => {
  for (const n of [[1, 1, 0], [-1, 0, -1], [0, 1, -1], [0, -1, 1]] as Vec3[]) {
    const eye = showingSide(mesh, n);
    expect(eye[0] * n[0] + eye[1] * n[1] + eye[2] * n[2]).toBeGreaterThan(0);
  }
});

describe("shades", () => {
  const light = (hex: number): number => new Color(hex).getHSL({ h: 0, s: 0, l: 0 }).l;
  it("of a lighter wood are lighter", () => {
    expect(light(shade(0.8, 0, 1))).toBeGreaterThan(light(shade(0.5, 0, 1)));
    expect(light(shade(0.5, 0, 1))).toBeGreaterThan(light(shade(0.2, 0, 1)));
  });
  it("differ for every piece of a wood", () => {
    for (const of of [2, 6, 8, 12]) for (const wood of [0.2, 0.55, 0.9])
      expect(new Set(Array.from({ length: of }, (_, i) => shade(wood, i, of))).size).toBe(of);
  });
});

describe("blocks that are drawn apart", () => {
  const dot = (a: Vec3, b: Vec3): number => a.reduce((sum, v, i) => sum + v * b[i]!, 0);
  it("part at every joint, along its normal", () => {
    // Four blocks glued in the pattern 1-2, 1-4, 2-4, 3-4.
    const joints: { between: [number, number]; normal: Vec3 }[] = [
      { between: [0, 1], normal: [1, 0, 1] }, { between: [0, 3], normal: [1, 0, 1] },
      { between: [1, 3], normal: [1, 0, -1] }, { between: [2, 3], normal: [1, 0, 1] },
    ];
    const shifts = blockShifts(4, joints);
    for (const { between: [a, b], normal } of joints)
      expect((dot(shifts[b]!, normal) - dot(shifts[a]!, normal)) / Math.hypot(...normal)).toBeGreaterThan(0.99);
  });
  it("stay where the joints are not, and do not run away where joints work against each other", () => {
    expect(blockShifts(3, [{ between: [0, 1], normal: [0, 0, 2] }])[2]).toEqual([0, 0, 0]);
    const ring = blockShifts(2, [{ between: [0, 1], normal: [1, 0, 0] }, { between: [1, 0], normal: [1, 0, 0] }]);
    for (const v of ring.flat()) expect(Math.abs(v)).toBeLessThan(1.01);
  });
});
