// touching.ts - which piece lies against which, and on how much of itself.
import { h, show, table } from "../dom";
import type { PuzzleReply } from "./model";
import { showNothingClosed, type Part, type Shown } from "./part";
import { areaText, counted, list } from "./words";

function drawTables(host: HTMLElement, puzzle: PuzzleReply): void {
  const { holds, pieces } = puzzle;
  const name = (i: number): string => pieces[i]?.name ?? "";
  const told = holds.some((t) => t.frees !== null && t.frees !== undefined);
  const frees = { head: "Comes free without the other", cell: (t: (typeof holds)[number]) => (t.frees ? "yes" : "no") };
  const rows = pieces.map((p, i) => {
    const mine = holds.filter((t) => t.between.includes(i));
    return { p, others: mine.map((t) => name(t.between[0] === i ? t.between[1] : t.between[0])) };
  });
  show(
    host,
    h("p", {}, "The areas on which two pieces lie against one another when the puzzle is closed. ",
      "What lies against nothing else but one piece is held by that piece alone."),
    h("div", { class: "columns" },
      h("section", { class: "sheet" }, table("Two pieces and what they share", [
        { head: "Piece", cell: (t) => name(t.between[0]) },
        { head: "touches", cell: (t) => name(t.between[1]) },
        { head: "Area", number: true, cell: (t) => areaText(t.area_mm2, t.area_units) },
        ...(told ? [frees] : []),
      ], holds)),
      h("section", { class: "sheet" }, table("What touches each piece", [
        { head: "Piece", cell: (r) => r.p.name },
        { head: "is touched by", cell: (r) => (r.others.length === 0 ? "nothing" : `${counted(r.others.length, "piece")}: ${list(r.others)}`) },
      ], rows)),
    ),
  );
}

export const touchingPart: Part = {
  id: "touching",
  title: "What touches what",
  show(host, puzzle): Shown {
    if (!puzzle.closed) return showNothingClosed(host, puzzle);
    drawTables(host, puzzle);
    return { undo: () => show(host), redraw: () => drawTables(host, puzzle) };
  },
};
