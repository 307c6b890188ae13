import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { changeForm, exactText, takeBack, valueBefore, type Done } from "../../src/ledger/change";
import { freshKey, keyKeeper, splitValues, valueParts, type Typed } from "../../src/ledger/desk-entry";
import { choicesOf } from "../../src/ledger/desk";
import { filterOf, isAsked, placeOf, speaksOf } from "../../src/ledger/filter";
import type { Reading, ReadSize } from "../../src/ledger/model";
import { remember, remembered } from "../../src/at-saw/memory";
import { rememberWho, whoIsHere } from "../../src/ledger/who";
import { hashOf, parsePlace } from "../../src/router";

const READING: Reading = {
  id: 12, value_mm: 16.019_78, at: "2031-02-04T18:30:05Z", taken_at: null, block: 7, stick: "A", wood: "Black Cherry", instrument: "caliper",
  by: "Rowan", entered: "typed", note: "warm shop", first_value_mm: 16.019_78, changes: [{ id: 20, at: "", value_mm: 16.019_78, by: "Sage", note: "misread" }],
};
const TYPED: Typed = { setup: "center-block", stop: 1, wood: "", stick: "", by: "", instrument: "", note: "", values: "16.02 16.03", block: 4 };

function sizeOf(setup: string, stop: number | null, width: number | null): ReadSize {
  return { setup, stop, width, name: setup, size: stop === null ? `width ${width}` : `stop ${stop}` } as ReadSize;
}

describe("values typed at the desk", () => {
  it("are parted by blanks, tabs and semicolons, with units beside their number", () => {
    expect(splitValues("16.02 16,03 mm;0.6307 in\t16.01")).toEqual(["16.02", "16,03mm", "0.6307in", "16.01"]);
    expect(splitValues("  ")).toEqual([]);
  });
  it("keep both widths of a block together", () => {
    expect(splitValues("15.98 / 16.01 15.97/16.02")).toEqual(["15.98/16.01", "15.97/16.02"]);
    expect(valueParts("15.98/16.01", true, "mm")).toEqual({ value: "15.98mm", value_2: "16.01mm" });
    expect(valueParts("/16.01", true, "mm")).toEqual({ value: "", value_2: "16.01mm" });
  });
  it("get the unit that is shown when none was typed", () => {
    expect(valueParts("0.6307", false, "inch")).toEqual({ value: "0.6307 in" });
    expect(valueParts("16.02mm", false, "inch")).toEqual({ value: "16.02mm" });
  });
  it("are numbered on from the first block", () => {
    expect(keyKeeper().entry(TYPED, "mm").readings.map((r) => r.block)).toEqual([4, 5]);
  });
});

describe("keys of readings", () => {
  it("are the same when the same is sent again after no answer, so that nothing is doubled", () => {
    const keys = keyKeeper();
    const first = keys.entry(TYPED, "mm").readings.map((r) => r.key);
    expect(keys.entry({ ...TYPED }, "mm").readings.map((r) => r.key)).toEqual(first);
  });
  it("are new once the program has answered, and for other words", () => {
    const keys = keyKeeper();
    const first = keys.entry(TYPED, "mm").readings.map((r) => r.key);
    const other = keys.entry({ ...TYPED, values: "16.02 16.04" }, "mm").readings.map((r) => r.key);
    keys.answered();
    const later = keys.entry({ ...TYPED, values: "16.02 16.04" }, "mm").readings.map((r) => r.key);
    expect(new Set([...first, ...other, ...later]).size).toBe(6);
  });
  it("hold no slash, which the program puts behind them for the second width", () => {
    expect(freshKey()).toMatch(/^desk-[0-9a-f]{32}$/);
  });
});

describe("the address", () => {
  it("comes back as it was given", () => {
    const f = { setup: "center-block", stop: 2, width: null, find: "black walnut" };
    expect(filterOf(parsePlace(hashOf(placeOf(f))))).toEqual(f);
  });
  it("with nonsense in it asks for all", () => {
    expect(filterOf(parsePlace("#/ledger?stop=1&width=x"))).toEqual({ setup: "", stop: null, width: null, find: "" });
    expect(filterOf(parsePlace("#/ledger/a?stop=0")).stop).toBeNull();
  });
  it("chooses sizes", () => {
    const all = [sizeOf("a", 1, null), sizeOf("a", 2, null), sizeOf("a", null, 1), sizeOf("b", 1, null)];
    const asked = (hash: string): string[] => all.filter((s) => isAsked(s, filterOf(parsePlace(hash)))).map((s) => `${s.setup} ${s.size}`);
    expect(asked("#/ledger/a?stop=2")).toEqual(["a stop 2"]);
    expect(asked("#/ledger/a?width=1")).toEqual(["a width 1"]);
    expect(asked("#/ledger/a")).toHaveLength(3);
    expect(asked("#/ledger")).toHaveLength(4);
  });
});

describe("finding", () => {
  it("looks at stick, wood, names, remarks, instrument, of corrections too, whatever the case", () => {
    for (const find of ["cherry", "ROWAN", "sage", "misread", "warm", "caliper", "black shop"]) expect(speaksOf(READING, find)).toBe(true);
    expect(speaksOf(READING, "walnut")).toBe(false);
  });
  it("takes a number for the whole number on a block", () => {
    expect(speaksOf(READING, "7")).toBe(true);
    expect(speaksOf({ ...READING, block: 17 }, "7")).toBe(false);
  });
});

describe("sizes to choose from at the desk", () => {
  it("have both widths of a block as one", () => {
    const choices = choicesOf([sizeOf("a", 1, null), sizeOf("a", null, 1), sizeOf("a", null, 2)], new Map([["a", 3]]));
    expect(choices.map((c) => [c.label, c.stop])).toEqual([["3. a, stop 1", 1], ["3. a, widths", 0]]);
  });
});

describe("changes", () => {
  const sent: unknown[] = [];
  beforeEach(() => {
    localStorage.clear();
    sent.length = 0;
    vi.stubGlobal("fetch", async (_: string, init: RequestInit) => {
      sent.push(JSON.parse(String(init.body)));
      return new Response(JSON.stringify({ says: "Go on." }), { status: 200 });
    });
  });
  afterEach(() => vi.unstubAllGlobals());

  const fill = (form: HTMLElement, texts: string[]): void =>
    form.querySelectorAll("input").forEach((input, i) => (input.value = texts[i] ?? ""));
  const submit = (form: HTMLElement): Promise<Done> =>
    new Promise((take) => {
      form.addEventListener("told", (e) => take((e as CustomEvent<Done>).detail));
      form.dispatchEvent(new Event("submit", { cancelable: true }));
    });
  const formOf = (reading: Reading, kind: "correct" | "withdraw" | "put back"): HTMLElement => {
    const form: HTMLElement = changeForm({
      batch: "spring.toml", reading, kind, units: "mm", close: () => undefined,
      done: (d) => form.dispatchEvent(new CustomEvent("told", { detail: d })),
    });
    return form;
  };

  it("send the new value with its unit, who and why; their undo is the value before, to the nanometer", async () => {
    const form = formOf(READING, "correct");
    fill(form, ["16,01", "Rowan", "misread"]);
    const done = await submit(form);
    expect(sent).toEqual([{ batch: "spring.toml", id: 12, value: "16.01 mm", by: "Rowan", note: "misread" }]);
    await takeBack("spring.toml", done);
    expect(sent[1]).toMatchObject({ id: 12, value: "16.01978 mm", by: "Rowan" });
  });
  it("withdraw by null, and say beforehand that nothing is erased", async () => {
    const form = formOf(READING, "withdraw");
    expect(form.textContent).toMatch(/stays in the ledger/);
    fill(form, ["", "chip"]);
    await submit(form);
    expect(sent[0]).toMatchObject({ value: null, note: "chip" });
  });
  it("put a withdrawn reading back as it was last; their undo withdraws it again", async () => {
    const gone = { ...READING, value_mm: null, changes: [...READING.changes, { id: 21, at: "", value_mm: null, by: "", note: "" }] };
    expect(valueBefore(gone)).toBeNull();
    const done = await submit(formOf(gone, "put back"));
    expect(sent[0]).toMatchObject({ value: "16.01978 mm" });
    expect(done.before).toBeNull();
  });
  it("show what the program refuses, and keep what was typed", async () => {
    vi.stubGlobal("fetch", async () => new Response(JSON.stringify({ code: "impossible_value", where: "value", say: "99 mm cannot be.", excerpt: "" }), { status: 422 }));
    const form = formOf(READING, "correct");
    fill(form, ["99"]);
    form.dispatchEvent(new Event("submit", { cancelable: true }));
    await vi.waitFor(() => expect(form.textContent).toContain("99 mm cannot be."));
    expect(form.querySelector("input")!.value).toBe("99");
  });
  it("are exact in words", () => {
    expect(exactText(16.1 + 0.2)).toBe("16.3 mm");
  });
});

describe("who sits here", () => {
  beforeEach(() => localStorage.clear());
  it("is remembered, the same at the desk and at the saw", () => {
    expect(whoIsHere()).toBe("");
    remember({ by: "Sage", wood: "cherry" });
    expect(whoIsHere()).toBe("Sage");
    rememberWho(" Rowan ");
    expect(remembered()).toMatchObject({ by: "Rowan", wood: "cherry" });
  });
});
