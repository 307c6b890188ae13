import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Entry } from "../../src/at-saw/entry";
import type { Recorded } from "../../src/at-saw/answer";

// A ledger as docs/ledger.md has it: a key that it knows is stored once. What the network does to calls is told apart.
class Ledger {
  rows: { id: number; key: string; value: string; withdrawn: boolean }[] = [];
  calls: { path: string; body: Record<string, unknown> }[] = [];
  network: "up" | "down" | "answers lost" | "a stranger's page" | number = "up";
  refuses = new Set<string>(); // values

  private record(body: { readings: { key: string; value: string }[] }): Recorded {
    const stored: Recorded["stored"] = [];
    const refused: Recorded["refused"] = [];
    for (const r of body.readings) {
      let row = this.rows.find((one) => one.key === r.key);
      if (this.refuses.has(r.value)) {
        refused.push({ key: r.key, code: "bad_value", say: "More than 20 % off." });
        continue;
      }
      const was_there = row !== undefined;
      if (!row) this.rows.push((row = { id: this.rows.length + 1, key: r.key, value: r.value, withdrawn: false }));
      stored.push({ id: row.id, key: r.key, was_there, value_mm: 0, block: null, at: "" });
    }
    return { stored, refused };
  }

  fetch = async (path: string, init: RequestInit): Promise<Response> => {
    const body = JSON.parse(String(init.body));
    this.calls.push({ path, body });
    const json = (value: unknown, status = 200): Response => new Response(JSON.stringify(value), { status });
    if (this.network === "down") throw new TypeError("network");
    if (typeof this.network === "number") return json({ code: "x", where: "", say: "No.", excerpt: "" }, this.network);
    if (this.network === "a stranger's page") return new Response("<html>Please log in</html>", { status: 200 });
    let answer: unknown = {};
    if (path === "/api/record") answer = this.record(body);
    else this.rows.find((r) => r.id === body.id)!.withdrawn = true;
    if (this.network === "answers lost") throw new TypeError("network");
    return json(answer);
  };
  values(): string[] {
    return this.rows.filter((r) => !r.withdrawn).map((r) => r.value);
  }
}

let ledger: Ledger;
const running: { stop(): void }[] = [];

// As a browser does when the page is opened: every module anew, only what was kept is there.
async function openPage() {
  vi.resetModules();
  const [queue, sending] = await Promise.all([import("../../src/at-saw/queue"), import("../../src/at-saw/sender")]);
  const enter = (value: string, more: Partial<Entry> = {}): Entry =>
    queue.add({ batch: "b.toml", setup: "octahedron", stop: 1, value, ...more });
  const start = () => {
    const sender = sending.startSender({ changed: () => undefined, answered: () => undefined });
    running.push(sender);
    return sender;
  };
  return { ...queue, enter, start };
}

const quiet = (ms = 0) => vi.advanceTimersByTimeAsync(ms);

beforeEach(() => {
  localStorage.clear();
  vi.useFakeTimers();
  ledger = new Ledger();
  vi.stubGlobal("fetch", ledger.fetch);
});
afterEach(() => {
  for (const sender of running.splice(0)) sender.stop();
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

describe("readings kept on the phone", () => {
  it("are there in a page opened anew, in the order in which they were entered", async () => {
    const first = await openPage();
    for (const v of ["16.01 mm", "16.02 mm", "16.03 mm"]) first.enter(v);
    const second = await openPage();
    second.enter("16.04 mm");
    expect(second.waiting().map((e) => e.value)).toEqual(["16.01 mm", "16.02 mm", "16.03 mm", "16.04 mm"]);
  });

  it("keep their order when the phone's clock is put back", async () => {
    const page = await openPage();
    for (const v of ["16.01 mm", "16.02 mm", "16.03 mm"]) {
      page.enter(v);
      vi.setSystemTime(Date.now() - 3600_000);
    }
    expect(page.waiting().map((e) => e.value)).toEqual(["16.01 mm", "16.02 mm", "16.03 mm"]);
  });

  it("go to the ledger by themselves when the page is opened, and wait no longer", async () => {
    (await openPage()).enter("16.01 mm");
    const page = await openPage();
    page.start();
    await quiet();
    expect(ledger.values()).toEqual(["16.01 mm"]);
    expect(page.waiting()).toEqual([]);
    expect(page.entries()[0]!.ids).toEqual([1]);
  });

  it.each(["down", 503, 500, 401] as const)("stay while the program answers %s, and go in order when it answers again", async (network) => {
    const page = await openPage();
    ledger.network = network;
    const sender = page.start();
    for (const v of ["16.01 mm", "16.02 mm", "16.03 mm"]) {
      page.enter(v);
      sender.kick();
      await quiet(200);
    }
    await quiet(5 * 60_000);
    expect(page.waiting().map((e) => e.value)).toEqual(["16.01 mm", "16.02 mm", "16.03 mm"]);
    expect(page.waiting().every((e) => e.held === null)).toBe(true);
    ledger.network = "up";
    sender.wake();
    await quiet();
    expect(ledger.values()).toEqual(["16.01 mm", "16.02 mm", "16.03 mm"]);
    expect(page.waiting()).toEqual([]);
  });

  it("are tried again after ever longer waits, at most half a minute", async () => {
    const page = await openPage();
    ledger.network = "down";
    page.enter("16.01 mm");
    page.start();
    await quiet(10_000);
    expect(ledger.calls.length).toBe(4); // at 0, 1, 3 and 7 seconds
    await quiet(5 * 60_000);
    expect(ledger.calls.length).toBeGreaterThanOrEqual(4 + 9);
  });

  it("go at once when the network is back, the page is seen or gets the focus", async () => {
    for (const [target, name] of [[window, "online"], [window, "focus"], [document, "visibilitychange"]] as const) {
      const page = await openPage();
      ledger.network = "down";
      page.enter(`16.01 mm ${name}`);
      page.start();
      await quiet(100_000);
      ledger.network = "up";
      target.dispatchEvent(new Event(name));
      await quiet();
      expect(ledger.values().at(-1)).toBe(`16.01 mm ${name}`);
      for (const sender of running.splice(0)) sender.stop();
    }
  });

  it("are not doubled when the answer was lost: the same key goes again", async () => {
    const page = await openPage();
    ledger.network = "answers lost";
    page.enter("16.01 mm");
    page.start();
    await quiet(8000);
    expect(page.waiting().length).toBe(1);
    ledger.network = "up";
    await quiet(60_000);
    const keys = ledger.calls.map((c) => (c.body["readings"] as { key: string }[])[0]!.key);
    expect(keys.length).toBeGreaterThan(2);
    expect(new Set(keys).size).toBe(1);
    expect(ledger.values()).toEqual(["16.01 mm"]);
    expect(page.waiting()).toEqual([]);
  });

  it("are not doubled by two tabs that send at once", async () => {
    const one = await openPage();
    const other = await openPage();
    for (const v of ["16.01 mm", "16.02 mm"]) one.enter(v);
    other.enter("16.03 mm");
    one.start();
    other.start();
    await quiet(1000);
    expect(ledger.calls.length).toBeGreaterThan(1);
    expect(ledger.values()).toEqual(["16.01 mm", "16.02 mm", "16.03 mm"]);
    expect(one.waiting()).toEqual([]);
  });

  it("stay when something answers that is not the program", async () => {
    const page = await openPage();
    ledger.network = "a stranger's page";
    page.enter("16.01 mm");
    page.start();
    await quiet(20_000);
    expect(page.waiting().length).toBe(1);
    ledger.network = "up";
    await quiet(60_000);
    expect(ledger.values()).toEqual(["16.01 mm"]);
  });

  it("of several set-ups, stops and woods go in calls of their own, in order", async () => {
    const page = await openPage();
    page.enter("1 mm");
    page.enter("2 mm", { stop: 2 });
    page.enter("3 mm", { stop: 2, wood: "cherry" });
    page.enter("4 mm", { setup: "prism" });
    page.enter("5 mm");
    page.start();
    await quiet();
    expect(ledger.values()).toEqual(["1 mm", "2 mm", "3 mm", "4 mm", "5 mm"]);
    expect(ledger.calls.length).toBe(5);
  });
});

describe("refused readings", () => {
  it("stay on the phone with the reason, and hold nothing up", async () => {
    const page = await openPage();
    ledger.refuses.add("160.2 mm");
    for (const v of ["16.01 mm", "160.2 mm", "16.03 mm"]) page.enter(v);
    page.start();
    await quiet(60_000);
    expect(ledger.values()).toEqual(["16.01 mm", "16.03 mm"]);
    expect(page.waiting().map((e) => [e.value, e.held?.say])).toEqual([["160.2 mm", "More than 20 % off."]]);
    expect((await openPage()).waiting().map((e) => e.held?.say)).toEqual(["More than 20 % off."]);
  });

  it("by a call that cannot be are asked again when the page is looked at again", async () => {
    const page = await openPage();
    ledger.network = 422;
    page.enter("16.01 mm");
    page.start();
    await quiet(60_000);
    expect(ledger.calls.length).toBe(1);
    expect(page.waiting()[0]!.held).toEqual({ say: "No.", whole: true });
    ledger.network = "up";
    window.dispatchEvent(new Event("focus"));
    await quiet();
    expect(ledger.values()).toEqual(["16.01 mm"]);
  });
});

describe("undoing", () => {
  it("takes away at once what was never sent", async () => {
    const page = await openPage();
    const e = page.enter("16.01 mm");
    page.undo(e.key);
    page.start();
    await quiet();
    expect(ledger.calls).toEqual([]);
  });

  it("of a reading whose answer was lost asks whether the ledger has it, and withdraws it there", async () => {
    const page = await openPage();
    ledger.network = "answers lost";
    const e = page.enter("16.01 mm");
    page.start();
    await quiet(100);
    page.undo(e.key);
    expect(page.waiting().length).toBe(1);
    ledger.network = "up";
    await quiet(60_000);
    expect(ledger.rows).toMatchObject([{ value: "16.01 mm", withdrawn: true }]);
    expect(page.waiting()).toEqual([]);
    expect(page.isUndone(e.key)).toBe(false);
  });

  it("in one tab holds while another tab writes the entry back on its way", async () => {
    const page = await openPage();
    const e = page.enter("16.01 mm");
    page.undo(e.key);
    page.put({ ...e, tried: true });
    page.start();
    await quiet(1000);
    expect(ledger.values()).toEqual([]);
    expect(page.waiting()).toEqual([]);
  });
});
