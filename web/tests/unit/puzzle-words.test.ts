import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { aside, shiftAt } from "../../src/puzzle/frames";
import { pieceColors } from "../../src/puzzle/looks";
import type { CheckResult, PuzzleReply } from "../../src/puzzle/model";
import { areaText, handLines, list, verdictLines, wayText } from "../../src/puzzle/words";

// As the program answered of examples/wrenfield/star.toml.
const star = JSON.parse(readFileSync(resolve(import.meta.dirname, "replies/puzzle-star.json"), "utf8")) as PuzzleReply;

describe("a take-apart as the program sends it", () => {
  it("moves in each step exactly the pieces that the step names", () => {
    star.steps.forEach((step, s) => {
      const moved = star.pieces.filter((_, i) => String(shiftAt(star.steps, s, i)) !== String(shiftAt(star.steps, s + 0.5, i)));
      const named = [...step.moves, ...(step.also ?? []).flatMap((g) => g.moves)];
      expect(moved.map((p) => p.name).sort()).toEqual([...named].sort());
    });
  });
  it("goes on in each step from where the one before ended", () => {
    for (let s = 1; s < star.steps.length; ++s) expect(star.steps[s]!.before).toEqual(star.steps[s - 1]!.after);
  });
  it("never sets a piece aside that moves or is held", () => {
    const names = star.pieces.map((p) => p.name);
    star.steps.forEach((step, s) => {
      const away = names.filter((_, i) => aside(star.steps, s + 0.5, names)[i]);
      for (const name of [...step.moves, ...step.from]) expect(away).not.toContain(name);
    });
  });
  it("tells its pieces apart where no wood is known", () => {
    expect(new Set(pieceColors(star.pieces, star.lightness)).size).toBe(star.pieces.length);
  });
  it("has a triangle list that names corners only, for every piece and block", () => {
    for (const { mesh } of star.pieces.flatMap((p) => [p, ...p.blocks])) {
      expect(mesh.tri.length % 3).toBe(0);
      for (const k of [...mesh.tri, ...mesh.edges]) expect(k).toBeLessThan(mesh.xyz.length / 3);
    }
  });
});

describe("words", () => {
  const found: CheckResult = {
    assemblies: { count: 2, complete: false }, comes_apart: false, verdict: "stopped", take_apart: null, steps: [],
  };
  it("never call proven what was not looked at to the end", () => {
    expect(verdictLines(found).join(" ")).toMatch(/at least 2 ways.*ended before all.*was not found out/);
    expect(verdictLines({ ...found, assemblies: { count: 0, complete: false } }).join(" ")).toMatch(/None found so far/);
    expect(verdictLines({ ...found, assemblies: { count: 0, complete: true } }).join(" ")).toMatch(/does not go together/);
    expect(verdictLines({ ...found, verdict: "none" }).join(" ")).toMatch(/does not come apart: that is proven/);
  });
  it("say which hands and which way down", () => {
    const lines = handLines({ ...star.steps[0]!, hands: 3, grips: ["a", "b"], down: [0, -1, 1] }).join(" ");
    expect(lines).toMatch(/takes 3 hands.*Take hold of a and b.*\u2212y \+z down/);
  });
  it("name lists and directions as one says them", () => {
    expect([list([]), list(["a"]), list(["a", "b", "c"])]).toEqual(["", "a", "a, b and c"]);
    expect(wayText([1, 0, -1])).toBe("+x \u2212z");
  });
  it("show areas in square millimeters or square inches; 1 in is 25.4 mm", () => {
    expect(areaText(645.16, 0, "mm")).toBe("645 mm\u00b2");
    expect(areaText(645.16, 0, "inch")).toBe("1.000 in\u00b2");
    expect(areaText(null, 1.5, "mm")).toBe("1.500 square units");
  });
});
