// page.ts - what the view shows of the ledger, and the state behind it.
import type { Problem } from "../api";
import { link } from "../api";
import { h, show } from "../dom";
import { go, hashOf, note } from "../router";
import { current } from "../state";
import { announce, emptyBox, problemBox, waitBox } from "../view/notice";
import { takeBack, type Done } from "./change";
import { desk } from "./desk";
import { eventsBox, goneBox } from "./events";
import { filterBar } from "./filter-bar";
import { isAsked, placeOf, speaksOf, type Filter } from "./filter";
import { askEvents, askReadings, sizeQuery, type Events, type ReadSize, type Readings } from "./model";
import { pointsOf, type Point } from "./points";
import { readingsTable, type ReadingsTable, type Row } from "./readings-table";
import { sizeSheet, type SizeSheet } from "./size-sheet";

export interface LedgerPage {
  filter(f: Filter): void; // the address says another
  redraw(): void; // units
  undo(): void;
}

// As on the cards: set-ups are numbered in the order of the plan.
export function numbersOf(sizes: readonly ReadSize[]): Map<string, number> {
  const out = new Map<string, number>();
  for (const s of sizes) if (!out.has(s.setup)) out.set(s.setup, out.size + 1);
  return out;
}

function isRead(s: ReadSize): boolean {
  return s.readings.length + s.not_counted.length > 0;
}

function teach(): HTMLElement {
  return emptyBox(
    "No readings yet. They come in three ways:",
    h("ul", {},
      h("li", {}, h("a", { href: hashOf({ view: "at-saw" }) }, "At the saw"), ": on a phone beside the machine, block by block;"),
      h("li", {}, "here, from a slip of paper: open \u201cEnter readings here\u201d;"),
      h("li", {}, "in a terminal: ", h("code", {}, "stickwright record batch.toml --setup 1 16.02 16.03"), ".")),
    h("p", {}, "With the second reading the chart begins to tell whether the saw holds its size."));
}

// Why nothing is shown of what was asked for.
function nothing(sizes: number, find: string): HTMLElement {
  const say = find ? `No reading speaks of \u201c${find}\u201d.` : "No readings of this size yet.";
  const all = h("p", {}, h("a", { href: hashOf({ view: "ledger" }) }, "Show all readings"));
  return emptyBox(sizes === 0 ? "The batch has no such set-up or size." : say, all);
}

export function ledgerPage(host: HTMLElement, batch: string, first: Filter): LedgerPage {
  const leaving = new AbortController();
  let filter = first;
  let answer: Readings | null = null;
  let events: Events = { truings: [], leaves: [] };
  let undoCharts: (() => void)[] = [];
  let sheets: SizeSheet[] = [];
  let listed: ReadingsTable | null = null;
  let shown = "";
  let stale = false; // changed elsewhere while something was being typed here

  const wait = h("div", {}, waitBox("Looking into the ledger."));
  const undone = h("div", { class: "undo-bar no-print", role: "status" });
  const charts = h("div", { class: "size-sheets" });
  const readings = h("div");
  const rest = h("div");
  const entry = desk(batch, () => void load(), leaving.signal);
  const bar = filterBar({
    choose: (f) => go(placeOf(f)),
    find: (text) => {
      filter = { ...filter, find: text };
      note(placeOf(filter));
      drawFound();
    },
  });
  const found = (p: Point): boolean => speaksOf(p.reading, filter.find);

  function rows(): Row[] {
    if (!answer) return [];
    const numbers = numbersOf(answer.stops);
    const all = answer.stops.filter((s) => isAsked(s, filter)).flatMap((size) =>
      pointsOf(size).filter(found).map((point) => ({ size, number: numbers.get(size.setup)!, point })));
    return all.sort((a, b) => b.point.reading.id - a.point.reading.id);
  }
  function drawTable(): void {
    if (!answer) return;
    const own = rows();
    const asked = answer.stops.filter((s) => isAsked(s, filter));
    if (own.length === 0) {
      listed = null;
      return show(readings, answer.stops.some(isRead) || asked.length === 0 ? nothing(asked.length, filter.find) : null);
    }
    listed = readingsTable({ batch, rows: own, units: current().units, ofOne: asked.filter(isRead).length === 1, done, closed: () => stale && void load() });
    show(readings, listed.element);
  }
  function drawCharts(): void {
    for (const undo of undoCharts) undo();
    undoCharts = [];
    if (!answer) return;
    const numbers = numbersOf(answer.stops);
    const asked = answer.stops.filter((s) => isAsked(s, filter) && isRead(s));
    sheets = asked.map((size) => sizeSheet({
      size, number: numbers.get(size.setup)!, units: current().units, large: asked.length === 1, found,
      open: (p) => listed?.show(p.reading.id),
      address: hashOf(placeOf({ setup: size.setup, stop: size.stop, width: size.width, find: "" })),
    }));
    charts.classList.toggle("one", asked.length === 1);
    show(charts, sheets.map((s) => s.element));
    undoCharts = sheets.map((s) => s.chart.draw());
    hideUnfound();
  }
  function hideUnfound(): void {
    const asked = answer?.stops.filter((s) => isAsked(s, filter) && isRead(s)) ?? [];
    sheets.forEach((s, i) => (s.element.hidden = filter.find !== "" && !pointsOf(asked[i]!).some(found)));
  }
  function drawFound(): void {
    for (const s of sheets) s.chart.find(found);
    hideUnfound();
    drawTable();
    announce(`${rows().length} found`);
  }
  function draw(): void {
    if (!answer) return;
    const numbers = numbersOf(answer.stops);
    const any = answer.stops.some(isRead);
    const query = sizeQuery({ setup: filter.setup, stop: filter.stop, width: filter.width });
    bar.show(answer.stops, numbers, filter, any ? link("/api/readings.csv", { batch, ...query }) : "");
    entry.sizes(answer.stops, numbers, filter);
    bar.element.hidden = entry.element.hidden = false;
    show(wait, !any && answer.stops.some((s) => isAsked(s, filter)) && teach());
    drawCharts();
    drawTable();
    const nameOf = (id: string): string => answer?.stops.find((s) => s.setup === id)?.name ?? id;
    show(rest, eventsBox(events, nameOf), goneBox(answer.no_longer_planned));
  }
  async function load(): Promise<void> {
    stale = false;
    const asked = Promise.all([askReadings(batch, leaving.signal), askEvents(batch, leaving.signal)]);
    const replies = await asked.catch(() => null); // the view was left
    if (!replies || leaving.signal.aborted) return;
    const [read, happened] = replies;
    if (!read.ok) return failed(read.problem);
    const came = JSON.stringify([read.value, happened.ok && happened.value]);
    if (came === shown) return; // nothing new: what is pointed at stays so
    shown = came;
    answer = read.value;
    if (happened.ok) events = happened.value;
    draw();
  }
  function failed(problem: Problem): void {
    shown = "";
    show(wait, problemBox(problem, () => void load()));
  }
  // Readings come in from elsewhere while this lies in the background; what is being typed here is left alone.
  function freshen(): void {
    if (document.visibilityState === "hidden") return;
    if (listed?.busy()) stale = true;
    else void load();
  }
  function done(d: Done): void {
    const back = h("button", {
      type: "button",
      onclick: async () => {
        const problem = await takeBack(batch, d);
        if (problem) return show(undone, problemBox(problem));
        show(undone, h("p", {}, `Taken back. Both stand in the ledger.`));
        await load();
        listed?.show(d.id);
      },
    }, "Undo");
    show(undone, h("div", { class: "good" }, h("p", {}, d.says, d.told.says && ` ${d.told.says}`), back));
    back.focus({ preventScroll: true });
    void load();
  }
  const openSignals = (): void => charts.querySelectorAll("details").forEach((d) => (d.open = true)); // paper opens nothing
  addEventListener("beforeprint", openSignals);
  bar.element.hidden = entry.element.hidden = true; // until there is something to choose from
  show(host, h("div", { class: "ledger" }, bar.element, entry.element, wait, charts, undone, readings, rest));
  addEventListener("focus", freshen);
  document.addEventListener("visibilitychange", freshen);
  void load();
  return {
    filter: (f) => {
      filter = f;
      draw();
    },
    redraw: draw,
    undo: () => {
      leaving.abort();
      removeEventListener("beforeprint", openSignals);
      removeEventListener("focus", freshen);
      document.removeEventListener("visibilitychange", freshen);
      for (const undo of undoCharts) undo();
      show(host);
    },
  };
}
