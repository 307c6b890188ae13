import { describe, expect, it } from "vitest";
import { lengthText, smallText, tickTexts, withUnit } from "../../src/units";

// 25.4 mm to the inch: exact by the international yard and pound agreement of 1959.
describe("lengths", () => {
  it("show millimeters with as many digits as asked", () => {
    expect(lengthText(22.627417, "mm", 3)).toBe("22.627 mm");
    expect(lengthText(-0.0004, "mm", 3)).toBe("0.000 mm");
    expect(lengthText(-0.085, "mm", 3)).toBe("\u22120.085 mm");
  });
  it("show one more digit of inches", () => {
    expect(lengthText(25.4, "inch", 2)).toBe("1.000 in");
    expect(lengthText(22.627417, "inch", 3)).toBe("0.8908 in");
  });
  it("show the nearest mark of a rule in 64ths, in lowest terms, and what is left over", () => {
    expect(lengthText(19.05, "fraction", 2)).toBe("3/4 in");
    expect(lengthText(38.1, "fraction", 2)).toBe("1 1/2 in");
    expect(lengthText(25.4 * (57 / 64) + 0.0254, "fraction", 2)).toBe("57/64 in + 0.001");
    expect(lengthText(50.8 - 0.0508, "fraction", 2)).toBe("2 in \u2212 0.002");
    expect(lengthText(-19.05, "fraction", 2)).toBe("\u22123/4 in");
  });
  it("never show a small difference as a fraction", () => {
    expect(smallText(0.05, "fraction")).toBe("0.0020 in");
  });
});

describe("lengths from the keyboard", () => {
  it("get the unit that is shown when none was written", () => {
    expect(withUnit("15.98", "mm")).toBe("15.98 mm");
    expect(withUnit("0.63", "fraction")).toBe("0.63 in");
    expect(withUnit("15,98", "mm")).toBe("15.98 mm");
    expect(withUnit("5/8 in", "mm")).toBe("5/8 in");
  });
});

describe("numbers at an axis", () => {
  it("tell each mark from the next, however close they stand", () => {
    expect(tickTexts([-0.0002, 0, 0.0002, 0.0004])).toEqual(["\u22120.0002", "0.0000", "0.0002", "0.0004"]);
    expect(tickTexts([15.9, 15.925, 15.95])).toEqual(["15.900", "15.925", "15.950"]);
    expect(tickTexts([0, 1, 2])).toEqual(["0", "1", "2"]);
    expect(tickTexts([0.00025])).toEqual(["0.00025"]);
    expect(tickTexts([])).toEqual([]);
  });
});
