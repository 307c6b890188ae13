import { describe, expect, it } from "vitest";
import type { BindingFit } from "../../src/fit/model";
import { newestWins } from "../../src/fit/newest-wins";
import { corners, joined, reach } from "../../src/fit/outline";
import { sliders } from "../../src/fit/sliders";
import { percentText } from "../../src/fit/words";

describe("of questions that come faster than answers", () => {
  function desk() {
    const asked: number[] = [];
    const taken: number[] = [];
    const answer: ((fails?: boolean) => Promise<void>)[] = [];
    const asks = newestWins<number, number>(
      (q) => {
        asked.push(q);
        return new Promise((take, fail) =>
          answer.push(async (fails = false) => {
            fails ? fail(new Error("gone")) : take(10 * q);
            await new Promise((r) => setTimeout(r));
          }));
      },
      (a) => taken.push(a),
    );
    return { asked, taken, answer, asks };
  }
  it("one is in flight at a time, and then only the newest is asked", async () => {
    const d = desk();
    [1, 2, 3, 4].forEach((q) => d.asks.put(q));
    expect(d.asked).toEqual([1]);
    await d.answer[0]!();
    expect(d.asked).toEqual([1, 4]);
    await d.answer[1]!();
    expect(d.taken).toEqual([10, 40]);
    expect(d.asked).toEqual([1, 4]);
  });
  it("a failure does not end the asking", async () => {
    const d = desk();
    [1, 2].forEach((q) => d.asks.put(q));
    await d.answer[0]!(true);
    await d.answer[1]!();
    expect(d.taken).toEqual([20]);
  });
  it("nothing is asked or taken after it was stopped", async () => {
    const d = desk();
    [1, 2].forEach((q) => d.asks.put(q));
    d.asks.stop();
    await d.answer[0]!();
    d.asks.put(3);
    expect(d.asked).toEqual([1]);
    expect(d.taken).toEqual([]);
  });
});

describe("a histogram's outline", () => {
  const bars = { from_mm: -0.002, width_mm: 0.002, count: [1, 3] };
  it("has the area 1, whatever the width of its bars", () => {
    const at = corners(bars);
    let area = 0;
    for (let i = 1; i < at.length; ++i) area += ((at[i]![0] - at[i - 1]![0]) * (at[i]![1] + at[i - 1]![1])) / 2;
    expect(area).toBeCloseTo(1, 12);
    expect(at[0]).toEqual([-0.002, 0]);
    expect(at.at(-1)![1]).toBe(0);
  });
  it("joined with others keeps each one's own order", () => {
    const [xs, a, b] = joined([[[0, 0], [0, 2], [1, 2]], [[0.5, 1], [2, 1]]]);
    expect(xs).toEqual([0, 0, 0.5, 1, 2]);
    expect(a).toEqual([0, 2, null, 2, null]);
    expect(b).toEqual([null, null, 1, null, 1]);
  });
  it("shares an axis with marks that are near, not with those far off", () => {
    expect(reach([[[0, 0], [1, 0]]], [1.5, -9])).toEqual([0, 1.5]);
  });
});

describe("a slider", () => {
  const size = (name: string) => ({
    name, set_up: null, stop: null, play_per_mm: -0.35, least_mm: -0.3, most_mm: 0.5, step_mm: 0.005, advised_mm: -0.0142,
  });
  const fit = { sizes: [size("stop 1"), size("stop 2")] } as unknown as BindingFit;
  const told: number[][] = [];
  const box = sliders(fit, [0, 0.1], (mm) => told.push(mm));
  const [first, second] = [...box.element.querySelectorAll<HTMLInputElement>("input")];
  const last = (): number[] => told.at(-1)!.map((x) => Number(x.toFixed(6)));
  const press = (key: string): boolean => first!.dispatchEvent(new KeyboardEvent("keydown", { key }));

  it("stands where it stood before", () => {
    expect(second!.value).toBe("0.1");
  });
  it("goes by the program's steps, with keys and mouse", () => {
    press("ArrowRight");
    expect(last()).toEqual([0.005, 0.1]);
    first!.value = "0.0231";
    first!.dispatchEvent(new Event("input"));
    expect(last()).toEqual([0.025, 0.1]);
  });
  it("stays within the program's limits", () => {
    press("Home");
    press("ArrowLeft");
    expect(last()).toEqual([-0.3, 0.1]);
    press("End");
    press("PageUp");
    expect(last()).toEqual([0.5, 0.1]);
  });
  it("goes to what is planned and to what is advised, to the nanometer", () => {
    const [planned, advised] = [...box.element.querySelectorAll("button")];
    advised!.click();
    expect(last()).toEqual([-0.0142, -0.0142]);
    expect(box.element.querySelector("output")!.textContent).toBe("\u22120.014 mm");
    planned!.click();
    expect(last()).toEqual([0, 0]);
  });
});

describe("shares", () => {
  it("never round to all or none", () => {
    expect([1, 0.9999, 0.5, 0.0001, 0].map(percentText)).toEqual(["100 %", "over 99.9 %", "50.0 %", "under 0.1 %", "0 %"]);
  });
});
