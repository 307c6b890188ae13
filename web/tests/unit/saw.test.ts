import { describe, expect, it } from "vitest";
import { correctForm, measuredOf } from "../../src/saw/correct";
import { adviceHead, knownText, leavesText, markedStack, parted, sizeText } from "../../src/saw/words";
import type { Correction } from "../../src/saw/model";
import { change } from "../../src/state";

describe("words of a set-up", () => {
  it("give gauge blocks and leaves as they are marked", () => {
    expect([1.03, 1.6, 20, 1.005, 68.45].map((s) => sizeText(s, "mm"))).toEqual(["1.03 mm", "1.6 mm", "20 mm", "1.005 mm", "68.45 mm"]);
    expect(sizeText(2.54254, "inch")).toBe("0.1001 in");
    expect(leavesText([0.05, 0.3])).toBe("leaves 0.05 mm + 0.30 mm");
    expect(leavesText([0.1])).toBe("leaf 0.10 mm");
    expect(leavesText([0.025])).toBe("leaf 0.025 mm");
    expect(leavesText([0.1016])).toBe("leaf 0.004 in");
  });
  it("give a stack by what is marked on its blocks, whatever unit is shown else", () => {
    expect(markedStack([1.05, 1.4, 6, 60])).toEqual({ sizes: ["1.05", "1.4", "6", "60"], unit: "mm" });
    expect(markedStack([2.54254, 3.175, 25.4])).toEqual({ sizes: ["0.1001", "0.125", "1"], unit: "in" });
    expect(markedStack([1.27])).toEqual({ sizes: ["1.27"], unit: "mm" });
  });
  it("part a number from its unit, but leave a fraction whole", () => {
    expect(parted("16.00 mm")).toEqual({ number: "16.00", unit: "mm" });
    expect(parted("5/8 in + 0.005")).toEqual({ number: "5/8 in + 0.005", unit: "" });
  });
  it("say what to do about a stop in few words", () => {
    const advice = (of: Partial<Correction>): string => adviceHead({ leaves: [], ...of } as Correction);
    expect(advice({ advice: "shim", leaves: [0.1] })).toBe("Put in: leaf 0.10 mm");
    expect(advice({ advice: "leave" })).toBe("Leave it as it is");
    expect(advice({ advice: "remake" })).toBe("Set the stop anew");
    expect(advice({ advice: "true the miter first" })).toBe("True the miter first");
  });
  it("give angles in degrees", () => {
    expect(knownText(Math.PI / 180, "rad")).toBe("1.0000\u00b0");
    expect(knownText(-Math.PI / 180 / 1000, "rad/N")).toBe("-1.0000\u00b0 per kN");
    expect(knownText(16, "mm")).toBe("16 mm");
  });
});

describe("measured test blocks as typed", () => {
  it("are one number or several, with comma or point, in the unit shown or in their own", () => {
    expect(measuredOf("16,06", "mm")).toEqual(["16.06 mm"]);
    expect(measuredOf(" 16.06  16.05;16.07 ", "mm")).toEqual(["16.06 mm", "16.05 mm", "16.07 mm"]);
    expect(measuredOf("0.631 in; 16.05 mm", "mm")).toEqual(["0.631 in", "16.05 mm"]);
    expect(measuredOf("0.631", "fraction")).toEqual(["0.631 in"]);
    expect(measuredOf("  ", "mm")).toEqual([]);
  });
  it("stay what they were when other units are shown", () => {
    change({ units: "mm" });
    const form = correctForm("b.toml", "octahedron", 1);
    const input = form.element.querySelector("input")!;
    input.value = "16,06 16.05";
    change({ units: "inch" });
    form.redraw();
    expect(input.value).toBe("16.06 mm; 16.05 mm");
    expect(measuredOf(input.value, "inch")).toEqual(["16.06 mm", "16.05 mm"]);
    change({ units: "mm" });
    form.dispose();
  });
});
