// The batch: what is made, from which sticks, on which evenings, at what cost; and the packet to print.
import { get, type Reply } from "../api";
import { h, show } from "../dom";
import { hashOf, type Place } from "../router";
import { current } from "../state";
import { emptyBox, problemBox, waitBox } from "../view/notice";
import type { View } from "../view/view";
import "./batch.css";
import { drawCost } from "./cost";
import { drawHead } from "./head";
import type { BatchHead, Sticks, Week } from "./model";
import { packetBox } from "./packet";
import { drawSticks } from "./sticks";
import { drawWeek } from "./week";

interface Section {
  id: string;
  title: string;
  host: HTMLElement;
  draw: () => void; // with what has come; nothing is drawn of what has not
}

let sections: Section[] = [];

function goTo(part: string): void {
  const section = sections.find((s) => s.id === part);
  const heading = section?.host.parentElement?.querySelector("h2");
  if (!heading) return;
  heading.scrollIntoView();
  heading.focus({ preventScroll: true });
}

function teach(): HTMLElement {
  return emptyBox(
    "There is no batch in this folder yet. A batch file says which puzzles are made, how many, of which woods, and by " +
      "when; docs/files.md has all its keys, and examples/wrenfield/batch.toml is one to copy.",
  );
}

function mount(host: HTMLElement, at: Place): () => void {
  const { batch } = current();
  if (!batch) {
    show(host, teach());
    return () => show(host);
  }
  host.classList.add("batch-page");
  const asks = new AbortController();
  const packet = packetBox(batch);
  const part = (id: string, title: string, wait: string, draw: (host: HTMLElement) => void): Section => {
    const section: Section = { id, title, host: h("div", {}, waitBox(wait)), draw: () => draw(section.host) };
    return section;
  };
  let head: BatchHead | null = null;
  let sticks: Sticks | null = null;
  let week: Week | null = null;
  const made = part("made", "What is made", "Planning the set-ups.", (to) => head && drawHead(to, head));
  const sawn = part("sticks", "Sticks", "Laying out the sticks.", (to) => sticks && drawSticks(to, sticks));
  const evenings = part("week", "Evenings", "Laying the work over the free hours.", (to) => week && drawWeek(to, week));
  const cost = part("cost", "What one puzzle costs", "Counting wood and hours.", (to) => head?.cost && drawCost(to, head.cost));
  sections = [made, sawn, evenings, cost];

  const ask = async <T>(path: string, take: (value: T) => void, shown: readonly Section[]): Promise<void> => {
    const failed = (reply: Reply<T>): boolean => {
      if (reply.ok) return false;
      const again = (): void => void ask(path, take, shown);
      shown.forEach((s, k) => show(s.host, k === 0 && problemBox(reply.problem, again)));
      return true;
    };
    try {
      const reply = await get<T>(path, { batch }, asks.signal);
      if (failed(reply) || !reply.ok) return;
      take(reply.value);
      for (const s of shown) s.draw();
      if (at.part && shown.some((s) => s.id === at.part)) goTo(at.part);
    } catch {
      // The view is gone.
    }
  };
  const takeHead = (value: BatchHead): void => {
    head = value;
    packet.tell(value.packet);
    if (!value.cost) for (const s of [sawn, evenings, cost]) show(s.host, h("p", {}, "Waits for enough sticks on the rack."));
    if (!value.cost) return;
    if (!sticks) void ask<Sticks>("/api/sticks", (v) => (sticks = v), [sawn]);
    if (!week) void ask<Week>("/api/week", (v) => (week = v), [evenings]);
  };
  void ask<BatchHead>("/api/batch", takeHead, [made, cost, sawn, evenings]);
  const link = (s: Section): HTMLElement =>
    h("li", {}, h("a", { href: hashOf({ view: "batch", part: s.id, query: { batch } }) }, s.title));
  show(
    host,
    packet.element,
    h("nav", { class: "parts no-print", "aria-label": "parts of the batch" }, h("ul", {}, sections.map(link))),
    sections.map((s) => h("section", { class: "part", "aria-label": s.title }, h("h2", { tabindex: -1 }, s.title), s.host)),
  );
  return () => {
    asks.abort();
    packet.undo();
    sections = [];
    show(host);
    host.classList.remove("batch-page");
  };
}

export const batchView: View = {
  id: "batch",
  title: "Batch",
  mount,
  moved: (at) => goTo(at.part),
  redraw: () => sections.forEach((s) => s.draw()),
};
