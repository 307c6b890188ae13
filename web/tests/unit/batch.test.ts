import { describe, expect, it } from "vitest";
import type { Sticks, SawnBlock } from "../../src/batch/model";
import { outline, roomiest, runsOf, stickPicture } from "../../src/batch/stick-drawing";
import { hoursBetween, percentOf, spanOf } from "../../src/batch/week";
import { dateText, hoursText, woodClasses } from "../../src/batch/words";

function block(number: number, near: number, far: number, test = false): SawnBlock {
  const end = (at: number, lean: number) => ({ axis_mm: at, upper_mm: at + lean, eye_mm: at, lower_mm: at - lean });
  return { shape: "prism block", hand: null, test, length_mm: far - near + 3, set_up: "prism-block", number, near: end(near, 10), far: end(far, -10) };
}

const three = [block(1, 20, 40), block(1, 43, 63), block(2, 66, 90, true)];
const sticks: Sticks = {
  head_mm: 15, tail_mm: 100, sticks: [{ number: 1, wood: "maple", length_mm: 300, left_mm: 207, blocks: three }], woods: [], used: 1, bound: 1,
  stick_mm: 16, across_corners_mm: 20, kerf_mm: 2, kerf_along_mm: 3, rack: [],
};

describe("a stick's picture", () => {
  const told: (number | null)[] = [];
  const picture = stickPicture(sticks.sticks[0]!, sticks, 500, "wood-0", "Stick 1", (k) => told.push(k));
  const press = (key: string): boolean => picture.element.dispatchEvent(new KeyboardEvent("keydown", { key, cancelable: true }));

  it("has one unit for each millimeter of the longest stick, so that all are to one scale", () => {
    expect(picture.element.getAttribute("viewBox")).toBe("-1 -1 502 22");
  });
  it("has the sawn ends where the program says, from corner to corner", () => {
    const first = picture.element.querySelectorAll(".block polygon")[0]!;
    expect(first.getAttribute("points")).toBe("30.000,0.000 20.000,10.000 10.000,20.000 50.000,20.000 40.000,10.000 30.000,0.000");
  });
  it("leaves a kerf before the first block, and ends where the stick does", () => {
    const [head, rest] = [...picture.element.querySelectorAll(".rest")].map((p) => p.getAttribute("points")!);
    expect(head).toContain("27.000,0.000");
    expect(rest).toContain("300.000,20.000");
  });
  it("hatches test pieces and nothing else", () => {
    expect(picture.element.querySelectorAll(".hatch").length).toBe(1);
    expect(picture.element.querySelectorAll(".test").length).toBe(1);
  });
  it("goes from block to block with the arrow keys, stays at the ends, and lets go with Escape", () => {
    for (const key of ["ArrowRight", "ArrowRight", "End", "ArrowRight", "ArrowLeft", "Escape"]) press(key);
    expect(told).toEqual([0, 1, 2, 1, null]);
    expect(press("x")).toBe(true);
    expect(press("Home")).toBe(false);
  });
});

describe("blocks", () => {
  it("that are equal and follow each other are told together; a test piece is not a block", () => {
    expect(runsOf(three)).toEqual([
      { number: 1, shape: "prism block", test: false, count: 2 },
      { number: 2, shape: "test piece, prism block", test: true, count: 1 },
    ]);
  });
  it("have their number where they are widest", () => {
    expect(roomiest(block(1, 20, 40), 20)).toEqual({ x: 30, y: expect.closeTo(15.6, 9) });
  });
  it("outlines go there and back", () => {
    expect(outline([[0, 0], [1, 2]], [[5, 0], [6, 2]])).toBe("0.000,0.000 1.000,2.000 6.000,2.000 5.000,0.000");
  });
});

describe("an evening", () => {
  const day = { windows: [{ from_s: 66_600, to_s: 76_000, from: "18:30", to: "21:06" }] };
  it("is drawn over whole hours", () => {
    expect(spanOf(day)).toEqual({ from: 64_800, to: 79_200 });
    expect(hoursBetween(spanOf(day)).map((t) => t / 3600)).toEqual([18, 19, 20, 21, 22]);
  });
  it("cuts off what stands before and after it", () => {
    expect([0, 72_000, 90_000].map((t) => percentOf(t, spanOf(day)))).toEqual([0, 50, 100]);
  });
});

describe("words", () => {
  it("tell hours as a clock does", () => {
    expect([0.05, 0.5, 2, 1.5833].map(hoursText)).toEqual(["3 min", "30 min", "2 h", "1 h 35 min"]);
    expect(hoursText(0.9999)).toBe("1 h");
  });
  it("tell dates and times", () => {
    expect(dateText("2031-02-05T18:40")).toBe("5 Feb 2031, 18:40");
  });
  it("give light woods light tones, and no two of three the same", () => {
    const woods = [{ wood: "cherry", lightness: 0.58 }, { wood: "walnut", lightness: 0.36 }, { wood: "maple", lightness: 0.9 }];
    expect([...woodClasses(woods)]).toEqual([["maple", "wood-0"], ["cherry", "wood-2"], ["walnut", "wood-4"]]);
    const alike = [{ wood: "ash", lightness: 0.84 }, { wood: "maple", lightness: 0.9 }];
    expect([...woodClasses(alike)]).toEqual([["maple", "wood-0"], ["ash", "wood-1"]]);
  });
});
