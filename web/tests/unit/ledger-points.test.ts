import { describe, expect, it } from "vitest";
import { span, ticks } from "../../src/ledger/control-chart";
import { shapeOf, shapesIn } from "../../src/ledger/marks";
import type { Reading, ReadSize } from "../../src/ledger/model";
import { isOutside, lastValue, leafMarks, newest, pointsOf, spread } from "../../src/ledger/points";
import { changesText, factsOf, pointText } from "../../src/ledger/words";

function reading(id: number, mm: number | null, more: Partial<Reading> = {}): Reading {
  return {
    id, value_mm: mm, at: "2031-02-04T18:30:05Z", taken_at: null, block: null, stick: "", wood: "", instrument: "", by: "",
    entered: "typed", note: "", first_value_mm: mm ?? 16, changes: [], ...more,
  };
}

function size(more: Partial<ReadSize>): ReadSize {
  return {
    setup: "center-block", stop: 1, width: null, name: "center block", size: "stop 1", target_mm: 16, tolerance_mm: 0.05, says: "", light: "go",
    mean: null, sd: null, outside: 0, limits: null, capability: null, signals: [], readings: [], not_counted: [], leaves: [], ...more,
  };
}

const withdrawn = reading(5, null, {
  first_value_mm: 15.9,
  changes: [
    { id: 6, at: "", value_mm: 15.98, by: "Rowan", note: "misread" },
    { id: 7, at: "", value_mm: null, by: "", note: "chip" },
  ],
});

describe("points of the chart", () => {
  it("come in the order of writing, those that do not count among those that do", () => {
    const s = size({ readings: [reading(4, 16), reading(8, 16.01)], not_counted: [reading(2, 16.06), withdrawn] });
    const points = pointsOf(s);
    expect(points.map((p) => p.reading.id)).toEqual([2, 4, 5, 8]);
    expect(points.map((p) => p.standing)).toEqual(["before", "counts", "withdrawn", "counts"]);
  });
  it("are numbered as the signals name them: among those that count", () => {
    const s = size({ readings: [reading(4, 16), reading(8, 16.01)], not_counted: [reading(2, 16.06)] });
    expect(pointsOf(s).map((p) => p.number)).toEqual([null, 1, 2]);
  });
  it("belong to a signal from its first to its last place", () => {
    const signal = { first: 1, last: 2, says: "readings 2 to 3: ...", means: "", check: "" };
    const s = size({ readings: [1, 2, 3, 4].map((id) => reading(id, 16)), signals: [signal] });
    expect(pointsOf(s).map((p) => p.signals.length)).toEqual([0, 1, 1, 0]);
  });
  it("stand, once withdrawn, where they stood last", () => {
    expect(lastValue(withdrawn)).toBe(15.98);
  });
  it("at the very end of the tolerance are not outside, in spite of binary fractions", () => {
    const s = { target_mm: 0.1 + 0.2, tolerance_mm: 0.05 };
    expect(isOutside(0.35, s)).toBe(false);
    expect(isOutside(0.351, s)).toBe(true);
  });
  it("told apart by shape, not by color alone", () => {
    const signal = { first: 1, last: 1, says: "", means: "", check: "" };
    const s = size({ readings: [reading(4, 16), reading(6, 16.02), reading(8, 16.07)], not_counted: [reading(2, 16), withdrawn], signals: [signal] });
    expect(pointsOf(s).map(shapeOf)).toEqual(["hollow", "dot", "struck", "square", "cross"]);
    expect(shapesIn(pointsOf(s), 1)).toEqual(["dot", "square", "cross", "struck", "hollow", "ring", "leaf"]);
  });
  it("have their leaf between the readings before and after it", () => {
    const s = size({ readings: [reading(5, 16)], not_counted: [reading(2, 16.1), reading(3, 16.1)], leaves: [{ id: 4, at: "", thickness_mm: 0.1 }] });
    expect(leafMarks(s, pointsOf(s))).toEqual([{ x: 2.5, thickness_mm: 0.1 }]);
    const after = size({ not_counted: [reading(2, 16.1)], leaves: [{ id: 4, at: "", thickness_mm: 0.1 }] });
    expect(leafMarks(after, pointsOf(after))[0]!.x).toBe(1.5);
  });
  it("are the newest when there are many, and keep their numbers", () => {
    const s = size({ readings: Array.from({ length: 300 }, (_, i) => reading(i + 1, 16)) });
    const few = newest(pointsOf(s), 200);
    expect([few[0]!.number, few.at(-1)!.number, few.length]).toEqual([101, 300, 200]);
  });
});

describe("the chart", () => {
  it("has room for tolerance, limits, readings and what they were before", () => {
    const corrected = reading(1, 16, { first_value_mm: 16.4, changes: [{ id: 2, at: "", value_mm: 16, by: "", note: "" }] });
    const s = size({ readings: [corrected], limits: { center: 16, lower: 15.8, upper: 16.2 } });
    const [low, high] = span(s, pointsOf(s));
    expect(low).toBeLessThan(15.8);
    expect(high).toBeGreaterThan(16.4);
  });
  it("names no more readings below the axis than there is room for", () => {
    const s = size({ readings: Array.from({ length: 50 }, (_, i) => reading(i + 1, 16)) });
    const named = ticks(pointsOf(s), 10);
    expect(named.length).toBeLessThanOrEqual(10);
    expect(named[0]).toBe(1);
  });
  it("moves labels of lines apart, keeps their order, and keeps them inside", () => {
    const at = spread([50, 52, 51, 10], 14, 60);
    expect([...at].sort((a, b) => a - b)).toEqual([at[3], at[0], at[2], at[1]]);
    expect(at[1]! - at[2]!).toBeGreaterThanOrEqual(14);
    expect(at[2]! - at[0]!).toBeGreaterThanOrEqual(14);
    expect(Math.max(...at)).toBeLessThanOrEqual(60);
  });
});

describe("words", () => {
  it("tell what became of a reading, in order", () => {
    expect(changesText(withdrawn, "mm")).toEqual(["corrected from 15.900 mm to 15.980 mm by Rowan (misread)", "withdrawn (chip)"]);
    const back = { ...withdrawn, changes: [...withdrawn.changes, { id: 9, at: "", value_mm: 15.98, by: "", note: "" }] };
    expect(changesText(back, "mm").at(-1)).toBe("put back as 15.980 mm");
  });
  it("say everything of a point in one line", () => {
    const s = size({ readings: [reading(4, 16.07, { block: 7, wood: "cherry", by: "Rowan" })] });
    expect(pointText(pointsOf(s)[0]!, "mm")).toMatch(/^reading 1: 16\.070 mm; outside the tolerance; block 7; cherry; by Rowan; 2031-02-0/);
  });
  it("give no number that the program did not give", () => {
    expect(factsOf(size({ readings: [reading(1, 16)] }), "mm").map(([name]) => name)).toEqual(["wanted", "readings that count", "outside the tolerance"]);
  });
});
