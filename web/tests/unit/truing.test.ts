import { afterEach, beforeEach, expect, it, vi } from "vitest";
import type { Truing } from "../../src/saw/model";
import { openTruing } from "../../src/saw/truing";
import { change } from "../../src/state";

const TRUING: Truing = {
  known: [], prepared: [], done: [{ id: 7, at: "2031-02-04T18:30:05Z", by: "", note: "", withdrawn: false, miter_deg: 0, miter_u_deg: 0 }],
  caution: "Unplug the saw.",
  looks: [
    { id: "point", says: "a square over the point", asks: [
      { key: "gap", kind: "length", says: "the gap", optional: false },
      { key: "light", kind: "choice", says: "where", optional: false, choices: [{ value: "tip", says: "at the tip" }, { value: "ends", says: "at the ends" }] },
      { key: "u", kind: "length", says: "uncertainty", optional: true }] },
    { id: "width", says: "the stick", asks: [
      { key: "across", kind: "number", says: "which pair", optional: false, choices: [{ value: 1, says: "one" }, { value: 2, says: "the other" }] },
      { key: "length", kind: "length", says: "reads", optional: false }] },
  ],
};

const asked: { readings: unknown[]; keep: boolean; after?: number }[] = [];
const settled = () => vi.advanceTimersByTimeAsync(1000);
let host: HTMLElement;
let batch = 0;

beforeEach(() => {
  vi.useFakeTimers();
  asked.length = 0;
  change({ units: "mm" });
  host = document.createElement("div");
  document.body.replaceChildren(host);
  ++batch;
  vi.stubGlobal("fetch", async (_: string, init: RequestInit) => {
    asked.push(JSON.parse(String(init.body)));
    return new Response(JSON.stringify({ errors: [], cannot_tell_apart: [], next: null, contradict: false, report: "", kept: false }));
  });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

function press(label: string): void {
  [...host.querySelectorAll("button")].find((b) => b.textContent === label)!.click();
}
function fill(n: number, text: string): void {
  const control = host.querySelectorAll<HTMLInputElement | HTMLSelectElement>(".look input, .look select")[n]!;
  control.value = text;
  control.dispatchEvent(new Event(control instanceof HTMLSelectElement ? "change" : "input"));
}

it("readings are asked about as soon as they are whole, each as a truing file has it", async () => {
  const open = openTruing(host, `b${batch}`, TRUING);
  press("+ a square over the point");
  fill(0, "0,05");
  await settled();
  expect(asked).toEqual([]);
  fill(1, "tip");
  await settled();
  expect(asked.at(-1)).toMatchObject({ readings: [{ of: "point", gap: "0.05 mm", light: "tip" }], keep: false });
  press("+ the stick");
  fill(3, "2");
  fill(4, "0.63 in");
  await settled();
  expect(asked.at(-1)!.readings).toEqual([{ of: "point", gap: "0.05 mm", light: "tip" }, { of: "width", across: 2, length: "0.63 in" }]);
  open.undo();
});

it("what is kept says which truing was seen last, so that sent twice it is kept once", async () => {
  const open = openTruing(host, `b${batch}`, TRUING);
  press("+ a square over the point");
  fill(0, "0.05");
  fill(1, "ends");
  await settled();
  press("It is done: write it down");
  await settled();
  expect(asked.at(-1)).toMatchObject({ keep: true, after: 7 });
  open.undo();
});

it("readings stay what they were when other units are shown, or the view was left in between", async () => {
  const first = openTruing(host, `b${batch}`, TRUING);
  press("+ a square over the point");
  fill(0, "0.05");
  fill(1, "tip");
  change({ units: "inch" });
  first.redraw();
  await settled();
  expect(asked.at(-1)!.readings).toEqual([{ of: "point", gap: "0.05 mm", light: "tip" }]);
  fill(2, "0.0002");
  first.undo();
  change({ units: "mm" });
  const second = openTruing(host, `b${batch}`, TRUING);
  await settled();
  expect(asked.at(-1)!.readings).toEqual([{ of: "point", gap: "0.05 mm", light: "tip", u: "0.0002 in" }]);
  second.undo();
});

it("readings that a leaf has answered are taken off the list, so that none calls for a second leaf", async () => {
  vi.stubGlobal("fetch", async (url: string, init?: RequestInit) => {
    const kept = url.includes("/api/align") && JSON.parse(String(init?.body)).keep === true;
    const done = [...TRUING.done, { ...TRUING.done[0]!, id: 8, note: "the new one" }];
    const reply = url.includes("/api/truing") ? { ...TRUING, done } : { errors: [], cannot_tell_apart: [], next: null, contradict: false, report: "", kept };
    asked.push(init?.body ? JSON.parse(String(init.body)) : { readings: [], keep: false });
    return new Response(JSON.stringify(reply));
  });
  const first = openTruing(host, `b${batch}`, TRUING);
  press("+ a square over the point");
  fill(0, "0.05");
  fill(1, "tip");
  await settled();
  press("It is done: write it down");
  await settled();
  expect(host.querySelectorAll(".look").length).toBe(0);
  expect(host.textContent).toContain("Written into the ledger");
  expect(host.textContent).toContain("the new one");
  press("+ a square over the point");
  fill(0, "0.01");
  fill(1, "tip");
  await settled();
  press("It is done: write it down");
  await settled();
  expect(asked.filter((a) => a.keep).at(-1)).toMatchObject({ keep: true, after: 8 });
  first.undo();
});
