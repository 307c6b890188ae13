// sticks.ts - which block from which stick: pictures to one scale, a table beside them, and the rack.
import { h, show, table } from "../dom";
import { current } from "../state";
import { lengthText } from "../units";
import { announce } from "../view/notice";
import type { CutStick, RackRow, Sticks } from "./model";
import { blockName, patterns, runsOf, runText, stickPicture } from "./stick-drawing";
import { plural, woodClasses } from "./words";

const mm = (length: number, digits = 1): string => lengthText(length, current().units, digits);

function blockDetail(stick: CutStick, k: number): string {
  const b = stick.blocks[k]!;
  return (
    `Stick ${stick.number}, ${stick.wood}, block ${k + 1} of ${stick.blocks.length}: ${blockName(b)}, set-up ${b.number}; ` +
    `${mm(b.near.axis_mm)} to ${mm(b.far.axis_mm)} from the fresh end, ` +
    `${mm(b.far.axis_mm - b.near.axis_mm, 2)} in its middle, ${mm(b.length_mm, 2)} with the kerf`
  );
}

function stickRow(stick: CutStick, all: Sticks, longest: number, woods: Map<string, string>): HTMLElement {
  const runs = runsOf(stick.blocks).map(runText).join("; ");
  const detail = h("p", { class: "detail" });
  const rest = `${runs}; ${mm(stick.left_mm)} left`;
  const label = `Stick ${stick.number}, ${stick.wood}, ${mm(stick.length_mm)}: ${rest}`;
  const tell = (k: number | null): void => {
    detail.textContent = k === null ? rest : blockDetail(stick, k);
    detail.classList.toggle("chosen", k !== null);
    if (k !== null && document.activeElement === picture.element) announce(blockDetail(stick, k));
  };
  const picture = stickPicture(stick, all, longest, woods.get(stick.wood) ?? "wood-0", label, tell);
  detail.textContent = rest;
  return h(
    "li",
    {},
    h("span", { class: "stick-name" }, h("strong", {}, stick.number), ` ${stick.wood}, ${mm(stick.length_mm)}`),
    h("div", { class: "stick-scroll" }, picture.element),
    detail,
  );
}

function proofText(w: Sticks["woods"][number]): string {
  const proof = w.proven ? "no plan uses fewer" : `any plan needs at least ${w.bound}`;
  const mill = w.to_mill > 0 ? `; ${plural(w.to_mill, "of them is rough: mill it", "of them are rough: mill them")}` : "";
  return `${plural(w.used, "stick")} of ${w.wood}: ${proof}${mill}.`;
}

function rackTable(rows: readonly RackRow[]): HTMLElement {
  return table("What the rack holds, and what the batch takes", [
    { head: "wood", cell: (r) => r.wood },
    { head: "length", cell: (r) => mm(r.length_mm, 0), number: true },
    { head: "as it is", cell: (r) => (r.milled ? "milled" : "rough") },
    { head: "on hand", cell: (r) => r.on_hand, number: true },
    { head: "used", cell: (r) => r.used, number: true },
    { head: "left", cell: (r) => r.left, number: true },
    { head: "to mill", cell: (r) => (r.milled ? "" : r.used), number: true },
  ], rows);
}

export function drawSticks(host: HTMLElement, all: Sticks): void {
  const woods = woodClasses(all.woods);
  const longest = Math.max(1, ...all.sticks.map((s) => s.length_mm));
  show(
    host,
    patterns(),
    h("ul", { class: "plain" }, all.woods.map((w) => h("li", {}, proofText(w)))),
    h(
      "p",
      { class: "key" },
      [...woods].map(([wood, tone]) => h("span", { class: `sample ${tone}` }, wood)),
      h("span", { class: "sample hatched" }, "test piece"),
      h("span", { class: "sample rest" }, "head, and what is left"),
      h("span", {}, "gaps: kerf; numbers: set-ups"),
    ),
    h("ol", { class: "sticks" }, all.sticks.map((s) => stickRow(s, all, longest, woods))),
    h(
      "p",
      { class: "small" },
      `All to one scale. Each stick is shown as it lies in the cradle, corner up, for its first block; later it is rolled. ` +
        `At the head ${mm(all.head_mm)} are lost, of the kerf of ${mm(all.kerf_mm, 2)} ${mm(all.kerf_along_mm, 2)} along the stick. ` +
        `At least ${mm(all.tail_mm)} stay: less cannot be held.`,
    ),
    table("Sticks, in the order of sawing", [
      { head: "stick", cell: (s) => s.number, number: true },
      { head: "wood", cell: (s) => s.wood },
      { head: "length", cell: (s) => mm(s.length_mm, 0), number: true },
      { head: "sawn from it, in this order", cell: (s) => runsOf(s.blocks).map(runText).join("; ") },
      { head: "left", cell: (s) => mm(s.left_mm), number: true },
    ], all.sticks),
    h("h3", {}, "The rack"),
    rackTable(all.rack),
  );
}
