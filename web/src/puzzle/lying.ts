// lying.ts - a design of which no assembly is known: its pieces as they are supplied, side by side, and why.
import { h, show } from "../dom";
import { hashOf } from "../router";
import { tryStage } from "../view/stage";
import { castList, putOn } from "./cast";
import { ballAround } from "./frames";
import type { PuzzleReply } from "./model";
import type { Shown } from "./part";
import { counted } from "./words";

export function searchLink(puzzle: PuzzleReply): HTMLElement {
  return h("a", { class: "button", href: hashOf({ view: "puzzle", part: "search", query: { design: puzzle.file } }) }, "All assemblies");
}

export function showLying(host: HTMLElement, puzzle: PuzzleReply): Shown {
  const box = h("div", { class: "stage" });
  const stage = tryStage(box, `${puzzle.design}, its pieces side by side`, "The pieces are listed here all the same.");
  const cast = putOn(stage, box, puzzle, (piece) => roll.mark(piece));
  const roll = castList(puzzle, cast);
  const build = h("a", { class: "button", href: hashOf({ view: "puzzle", part: "build", query: { design: puzzle.file } }) }, "Go on building");
  const why = h("section", { class: "sheet step-sheet" },
    h("h2", {}, puzzle.stopped_early ? "Stopped early" : "Not closed"),
    puzzle.says.map((s) => h("p", {}, s)),
    h("p", { class: "row" }, puzzle.stopped_early ? searchLink(puzzle) : build));
  const pieces = h("section", { class: "sheet" }, h("h2", {}, counted(puzzle.pieces.length, "piece")), roll.list);
  show(host, h("div", { class: "columns apart" },
    h("div", { class: "bench" }, box, h("p", { class: "under" }, "The pieces side by side, not as they go together.")),
    h("div", { class: "beside" }, why, pieces)));
  const ball = ballAround(puzzle.pieces.map((p) => ({ xyz: p.mesh.xyz, shift: [0, 0, 0] })));
  stage?.frame([1, -2, 4]);
  stage?.aim(ball.middle, ball.radius);
  return {
    undo: () => {
      cast.undo();
      stage?.dispose();
      show(host);
    },
    redraw: () => stage?.recolor(),
  };
}
