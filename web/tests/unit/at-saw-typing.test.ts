import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { readingField, type ReadingField } from "../../src/at-saw/reading-field";
import { readTyped } from "../../src/at-saw/wedge";

const SAYS = { ok: false, say: expect.any(String) };

describe("what a caliper types", () => {
  it("is one number, with comma or point, zeros in front, line ends and control characters", () => {
    for (const text of ["16.02", "16,02", "+16.02", "+0016.02", " 16.02\r\n", "\u000216.02\u0003", "\ufeff16.02\t"])
      expect(readTyped(text)).toEqual({ ok: true, value: "16.02" });
    expect(readTyped(".63")).toEqual({ ok: true, value: "0.63" });
    expect(readTyped("16.")).toEqual({ ok: true, value: "16" });
    expect(readTyped("0")).toEqual({ ok: true, value: "0" });
  });
  it("keeps its unit", () => {
    expect(readTyped("16.02 mm")).toEqual({ ok: true, value: "16.02 mm" });
    expect(readTyped('0.6307"')).toEqual({ ok: true, value: "0.6307 in" });
    expect(readTyped("0,6307IN")).toEqual({ ok: true, value: "0.6307 in" });
  });
  it("is told to be no number when it is none, and is never mended into one", () => {
    for (const text of ["", "  ", "\r", ".", "16.0.2", "16 02", "16.02 16.03", "1e3", "abc", "16.02 kg", "-16.02", "\u221216.02", "16\u000302"])
      expect(readTyped(text)).toEqual(SAYS);
  });
});

describe("the field for readings", () => {
  let reading: ReadingField;
  let undo: () => void;
  const enter = vi.fn();
  const button = document.createElement("button");
  const key = (target: EventTarget, name: string, at = 0): KeyboardEvent => {
    const event = new KeyboardEvent("keydown", { key: name, bubbles: true, cancelable: true });
    if (at) Object.defineProperty(event, "timeStamp", { value: at });
    target.dispatchEvent(event);
    return event;
  };

  beforeEach(() => {
    localStorage.clear();
    enter.mockReset();
    reading = readingField(enter, () => undefined);
    document.body.replaceChildren(reading.element, button);
    undo = reading.listen();
  });
  afterEach(() => undo());

  it("has the focus from the start, and again when the page does", () => {
    expect(document.activeElement).toBe(reading.input);
    reading.input.blur();
    window.dispatchEvent(new Event("focus"));
    expect(document.activeElement).toBe(reading.input);
    reading.input.blur();
    document.dispatchEvent(new Event("visibilitychange"));
    expect(document.activeElement).toBe(reading.input);
  });
  it("gets the focus back after a thumb has touched a button", () => {
    button.focus();
    button.dispatchEvent(new MouseEvent("click", { bubbles: true, detail: 1 }));
    expect(document.activeElement).toBe(reading.input);
  });
  it("leaves it to a button that was reached and pressed by keyboard", () => {
    button.focus();
    button.dispatchEvent(new MouseEvent("click", { bubbles: true, detail: 0 }));
    key(button, "Tab");
    key(button, "Enter");
    expect(document.activeElement).toBe(button);
    expect(enter).not.toHaveBeenCalled();
  });
  it("takes it when digits come while a button has it, but not from another field", () => {
    button.focus();
    key(button, "1");
    expect(document.activeElement).toBe(reading.input);
    const other = document.createElement("input");
    document.body.append(other);
    other.focus();
    key(other, "1");
    expect(document.activeElement).toBe(other);
  });
  it("enters at Enter, and at a Tab that follows a digit as fast as a caliper types", () => {
    key(reading.input, "Enter");
    expect(enter).toHaveBeenCalledTimes(1);
    reading.type("16.02");
    key(reading.input, "2", 1000);
    expect(key(reading.input, "Tab", 1010).defaultPrevented).toBe(true);
    expect(enter).toHaveBeenCalledTimes(2);
    key(reading.input, "2", 2000);
    expect(key(reading.input, "Tab", 2400).defaultPrevented).toBe(false);
    expect(enter).toHaveBeenCalledTimes(2);
  });
  it("has what was typed and not entered when the page is opened anew", () => {
    reading.type("16.0");
    reading.type("27");
    reading.erase();
    expect(readingField(enter, () => undefined).input.value).toBe("16.02");
    reading.clear();
    expect(readingField(enter, () => undefined).input.value).toBe("");
  });
});
