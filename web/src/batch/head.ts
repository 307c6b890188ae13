// head.ts - what is made, of which woods, by when; which blocks, how many to spare; what the rack lacks.
import { h, show, table } from "../dom";
import { current } from "../state";
import { lengthText } from "../units";
import { problemBox } from "../view/notice";
import type { BatchHead } from "./model";
import { dateText, plural } from "./words";

function woodsText(woods: readonly string[][]): string {
  const counted = new Map<string, number>();
  for (const copy of woods) {
    const text = [...new Set(copy)].join(" and ");
    counted.set(text, (counted.get(text) ?? 0) + 1);
  }
  return [...counted].map(([text, n]) => (counted.size > 1 ? `${n} of ${text}` : text)).join(", ");
}

function puzzleItem(p: BatchHead["puzzles"][number]): HTMLElement {
  const pieces = p.pieces.map((x) => `${plural(x.copies, x.name)}: ${woodsText(x.woods)}`).join("; ");
  const like = p.like_wood_contacts > 0 ? ` Neighbors show the same wood at ${plural(p.like_wood_contacts, "cell face")}.` : "";
  return h("li", {}, h("strong", {}, `${p.copies} × ${p.name}`), ` - ${pieces}.${like}`);
}

interface BlockRow {
  number: number;
  name: string;
  wood: string;
  needed: number;
  spares: number;
  each: number;
}

function blockRows(b: BatchHead): BlockRow[] {
  return b.blocks.flatMap((s) =>
    s.woods.map((w) => ({ number: s.number, name: s.name, ...w, each: s.stick_per_block_mm })));
}

function lack(b: BatchHead): HTMLElement | null {
  if (!b.problem) return null;
  const length = (mm: number): string => lengthText(mm, current().units, 0);
  const buy = b.short.map((s) => h("li", {}, `${s.more} more of ${s.wood}, ${length(s.length_mm)} long`));
  return h(
    "div",
    {},
    problemBox(b.problem),
    buy.length > 0 && h("p", {}, "With these besides on the rack, rough or milled, the batch can be sawn:"),
    buy.length > 0 && h("ul", {}, buy),
  );
}

export function drawHead(host: HTMLElement, b: BatchHead): void {
  const { units } = current();
  show(
    host,
    lack(b),
    h(
      "p",
      {},
      `${b.name}, by ${b.shop}. From ${dateText(b.start)}, due ${dateText(b.due)}. ` +
        `Sticks of ${lengthText(b.stick_mm, units, 2)} square, kerf ${lengthText(b.kerf_mm, units, 2)}.`,
    ),
    h("ul", { class: "plain" }, b.puzzles.map(puzzleItem)),
    table("Blocks to saw", [
      { head: "set-up", cell: (r) => r.number, number: true },
      { head: "block", cell: (r) => r.name },
      { head: "wood", cell: (r) => r.wood },
      { head: "needed", cell: (r) => r.needed, number: true },
      { head: "spares", cell: (r) => r.spares, number: true },
      { head: "to saw", cell: (r) => r.needed + r.spares, number: true },
      { head: "stick for each, kerf included", cell: (r) => lengthText(r.each, units, 2), number: true },
    ], blockRows(b)),
  );
}
