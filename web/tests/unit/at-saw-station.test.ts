import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { SetUps } from "../../src/saw/model";

// A set-up as /api/setups describes it; sizes invented.
const test = {
  across_flats_mm: 16, expected_mm: 15.98, tolerance_mm: 0.05, u_reading_mm: 0.004, leave_it_mm: 0.02, says: "measure a block",
  correction_says: "", shim_table: [],
  budget: { u_mm: 0.02, expanded_mm: 0.04, coverage: 0.95, says: "", lines: [], bends: false, sampled: null },
};
const stop = {
  face: "mitered", contact: "face", least_contact: "face", distance_mm: 22.627, stack: [1.03, 1.6, 20], stack_total_mm: 22.63,
  stack_error_mm: 0.003, u_mm: 0.0005, square_stop_mm: null, says: "1.03 + 1.6 + 20", setting_says: "Set the stop.",
};
const step = { caution: "", test: null, measure_mm: null };
const SET_UPS: SetUps = {
  batch: "b.toml", batch_name: "b", stick_mm: 16, saw: [], leaves_mm: [0.05], instrument: "caliper", cautions: [],
  setups: [{
    id: "octahedron", number: 3, name: "octahedron", shape: "octahedron", hand: null, blocks: 66,
    needed: { cherry: 20, walnut: 20 }, spares: { cherry: 2 }, stick_per_block_mm: 26, start_says: "Lay the stick.", stops_say: "", widths_say: "width 1",
    cautions: [], stops: [stop, stop], tests: [test, test],
    cuts: [{ end: "far", pencil: "up", stop: 0, contact: "face", on: "stick", severs: true, end_for_end: false, says: "severs the block" }],
    steps: [
      { ...step, does: "stop", mark: "", stop: 1, says: "Set the stop.", cut: null },
      { ...step, does: "test piece", mark: "T", stop: 2, says: "a test piece", cut: null },
      { ...step, does: "cut", mark: "1", stop: 1, says: "severs the block", cut: 1 },
    ],
  }],
};

let paired: boolean;
let sent: { key: string; value: string; value_2?: string; block?: number }[];
const calls = (): string[] => sent.map((r) => [r.block, r.value, r.value_2].filter((x) => x !== undefined).join(" "));

async function fetchStub(path: string, init: RequestInit): Promise<Response> {
  const json = (value: unknown, status = 200): Response => new Response(status === 204 ? null : JSON.stringify(value), { status });
  if (path === "/api/pair") return (paired = true), json(null, 204);
  if (!paired) return json({ code: "not_paired", where: "", say: "Who are you?", excerpt: "" }, 401);
  if (path.startsWith("/api/setups")) return json(SET_UPS);
  if (path.startsWith("/api/readings")) return json({ stops: [] });
  const body = JSON.parse(String(init.body)) as { readings: typeof sent };
  const stored = body.readings.map((r) => ({ id: sent.push(r), key: r.key, was_there: false, value_mm: 0, block: null, at: "" }));
  return json({ stored, refused: [], light: "stop", says: "Stop. The last reading is outside." });
}

async function open(query: Record<string, string> = {}) {
  vi.resetModules();
  const [{ atSawView }, { change }] = await Promise.all([import("../../src/at-saw"), import("../../src/state")]);
  change({ batch: "b.toml", units: "mm" });
  const host = document.createElement("div");
  document.body.replaceChildren(host);
  const undo = atSawView.mount(host, { view: "at-saw", part: "octahedron", query: { face: "measure", ...query } });
  await settled();
  const input = host.querySelector("input.reading") as HTMLInputElement;
  const type = (text: string): void => {
    input.value = text;
    input.dispatchEvent(new Event("input"));
    input.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true, cancelable: true }));
  };
  const press = (name: string): void => {
    const found = [...document.querySelectorAll("button")].find((b) => (b.getAttribute("aria-label") ?? b.textContent) === name);
    found!.click();
  };
  return { host, undo, input, type, press, view: atSawView, change, text: (of: string) => host.querySelector(of)?.textContent ?? "" };
}
const settled = () => new Promise((done) => setTimeout(done, 30));

beforeEach(() => {
  localStorage.clear();
  paired = true;
  sent = [];
  vi.stubGlobal("fetch", fetchStub);
});
afterEach(() => {
  document.body.replaceChildren();
  vi.unstubAllGlobals();
});

describe("a set-up at the saw", () => {
  it("shows the size wanted, takes a reading and says at once what the ledger makes of it, in a word", async () => {
    const page = await open();
    expect(page.text(".big-number b")).toBe("16.00");
    page.type("16,09");
    await settled();
    expect(calls()).toEqual(["16.09 mm"]);
    expect(page.text(".band strong")).toBe("Stop sawing");
    expect(page.text(".band .says")).toBe("The last reading is outside.");
    expect(page.text(".queue-line")).toBe("All in the ledger");
    expect(document.activeElement).toBe(page.input);
    page.undo();
  });

  it("keeps what is typed when the units change, and reads it in the unit that is shown when it is entered", async () => {
    const page = await open();
    page.input.value = "0.631";
    page.change({ units: "inch" });
    page.view.redraw!();
    expect(page.input.isConnected).toBe(true);
    expect(page.input.value).toBe("0.631");
    expect(page.text(".big-number")).toContain("0.630");
    page.type(page.input.value);
    await settled();
    expect(calls()).toEqual(["0.631 in"]);
    page.undo();
  });

  it("asks for the code when the program does not know the phone any more, and then sends what waited", async () => {
    const page = await open();
    paired = false;
    page.type("16.01");
    await settled();
    expect(page.text(".pair-again")).toContain("1 on this phone");
    expect(page.host.querySelector(".pair-again input")).not.toBeNull();
    const code = page.host.querySelector(".pair-again input") as HTMLInputElement;
    code.value = "123456";
    (page.host.querySelector(".pair-again form") as HTMLFormElement).dispatchEvent(new Event("submit", { cancelable: true }));
    await settled();
    expect(page.host.querySelector(".pair-again input")).toBeNull();
    expect(calls()).toEqual(["16.01 mm"]);
    page.undo();
  });

  it("goes through test pieces and cuts, and counts the blocks that are done on this phone", async () => {
    const page = await open({ face: "cut" });
    expect(page.text(".cut-says")).toBe("a test piece");
    page.press("Next cut");
    expect(page.text(".cut-says")).toBe("severs the block");
    page.press("Block done");
    page.press("Block done");
    expect(page.text(".tally p")).toBe("2 of 66 blocks");
    page.press("one block fewer");
    page.undo();
    const again = await open({ face: "cut" });
    expect(again.text(".tally p")).toBe("1 of 66 blocks");
    again.undo();
  });

  it("leaves the focus on the button that was pressed by keyboard", async () => {
    const page = await open({ face: "cut" });
    const cut = (): HTMLElement => [...page.host.querySelectorAll<HTMLElement>(".rail button")].find((b) => b.textContent === "Set")!;
    cut().focus();
    cut().click();
    expect(page.host.querySelector(".stop-face")).not.toBeNull();
    expect(document.activeElement).toBe(cut());
    page.undo();
  });

  it("takes a reading that a caliper types while another face is shown, and shows the entry then", async () => {
    const page = await open({ face: "stop" });
    expect(page.text(".big-number b")).toBe("22.63");
    expect([...page.host.querySelectorAll(".stack li")].map((li) => li.textContent)).toEqual(["1.03", "1.6", "20"]);
    page.type("16.01");
    await settled();
    expect(calls()).toEqual(["16.01 mm"]);
    expect(page.host.querySelector(".measure-face")).not.toBeNull();
    page.undo();
  });

  it("leaves nothing behind that listens or is seen", async () => {
    const page = await open();
    page.undo();
    expect(page.host.childNodes.length).toBe(0);
    const other = document.createElement("button");
    document.body.append(other);
    other.focus();
    other.dispatchEvent(new KeyboardEvent("keydown", { key: "1", bubbles: true }));
    expect(document.activeElement).toBe(other);
  });
});

describe("widths at the saw", () => {
  const wood = (page: Awaited<ReturnType<typeof open>>, name: string): void => {
    const select = page.host.querySelector(".about select") as HTMLSelectElement;
    select.value = name;
    select.dispatchEvent(new Event("change"));
  };

  it("are two values a block, the number on the block counting on, for each wood by itself", async () => {
    const page = await open({ widths: "yes" });
    wood(page, "cherry");
    for (const text of ["15.98", "16.01", "15.97/16.02"]) page.type(text);
    wood(page, "walnut");
    page.type("15.99");
    page.type("");
    wood(page, "cherry");
    page.type("");
    page.type("16.03");
    await settled();
    expect(calls()).toEqual(["1 15.98 mm 16.01 mm", "2 15.97 mm 16.02 mm", "1 15.99 mm", "3  16.03 mm"]);
    page.undo();
  });

  it("ask for the wood, and for at least one value, before anything is kept", async () => {
    const page = await open({ widths: "yes" });
    page.type("15.98");
    expect(page.text(".message")).toContain("Which wood");
    expect(page.input.value).toBe("15.98");
    wood(page, "cherry");
    page.type("");
    page.type("");
    await settled();
    expect(page.text(".message")).toContain("Neither width");
    expect(page.text(".reading-box label")).toContain("width 1");
    expect(calls()).toEqual([]);
    page.undo();
  });

  it("know the first of the two after the page was killed", async () => {
    const page = await open({ widths: "yes" });
    wood(page, "cherry");
    page.type("15.98");
    const again = await open({ widths: "yes" });
    expect(again.text(".reading-box label")).toContain("width 2");
    again.type("16.01");
    await settled();
    expect(calls()).toEqual(["1 15.98 mm 16.01 mm"]);
    again.undo();
  });
});
