// pieces.ts - the pieces side by side, and one of them taken down to its blocks along its glue joints.
import { h, show, table } from "../dom";
import { here, note, type Place } from "../router";
import { tryStage, type Body, type Stage } from "../view/stage";
import { ballAround } from "./frames";
import { showingSide, woodColor } from "./looks";
import type { PieceBody, PuzzleReply, Vec3 } from "./model";
import { blockShifts } from "./spread";
import { showNothingClosed, type Part, type Shown } from "./part";
import { createPictures, type Picture, type Pictures } from "./pictures";
import { areaText, counted, handed } from "./words";

interface Kind {
  first: PieceBody;
  all: PieceBody[];
}

// Copies that look alike stand together: the same piece of the design in the same woods.
function kinds(puzzle: PuzzleReply): Kind[] {
  const found = new Map<string, Kind>();
  for (const p of puzzle.pieces) {
    const key = [p.of, p.made, ...p.blocks.map((b) => b.wood ?? "")].join("|");
    const kind = found.get(key);
    if (kind) kind.all.push(p);
    else found.set(key, { first: p, all: [p] });
  }
  return [...found.values()];
}

// What a piece is drawn from: its blocks, or itself where it is made in one, as sticks with notches are.
function bodiesOf(piece: PieceBody, puzzle: PuzzleReply): Picture[] {
  const color = (wood: string | null): number => woodColor(wood, puzzle.lightness);
  if (piece.blocks.length === 0) return [{ mesh: piece.mesh, color: color(piece.woods[0] ?? null) }];
  return piece.blocks.map((b) => ({ mesh: b.mesh, color: color(b.wood) }));
}

//   alone  all copies of the piece are of this kind
function card(kind: Kind, puzzle: PuzzleReply, pictures: Pictures, chosen: boolean, alone: boolean): HTMLElement {
  const { first, all } = kind;
  const blocks = first.blocks.length > 0 ? `, ${counted(first.blocks.length, "block")}` : "";
  const name = alone ? first.of : all.map((p) => p.name).join(", ");
  return h(
    "button",
    {
      type: "button", class: "card sheet", "aria-pressed": chosen ? "true" : "false",
      onclick: () => note({ ...here(), query: { ...here().query, piece: first.name } }),
    },
    pictures.of(bodiesOf(first, puzzle), "", showingSide(first.mesh)),
    h("strong", {}, name),
    h("span", {}, `${all.length === 1 ? "once" : `${all.length} copies`}${blocks}`),
    h("small", {}, first.woods.length > 0 ? first.woods.join(", ") : "no wood chosen yet"),
  );
}

function blockTables(piece: PieceBody, point: (block: number | null) => void): HTMLElement {
  const rows = piece.blocks.map((b, i) => ({ b, i }));
  const name = (i: number): string => `${i + 1}`;
  const pointer = (i: number): HTMLElement =>
    h("button", {
      type: "button", class: "quiet",
      onfocus: () => point(i), onblur: () => point(null), onpointerenter: () => point(i), onpointerleave: () => point(null),
    }, name(i));
  if (rows.length === 0) return h("p", {}, "Made in one: nothing is glued.");
  return h(
    "div",
    {},
    table("Blocks", [
      { head: "No.", cell: (r) => pointer(r.i) },
      { head: "Shape", cell: (r) => handed(r.b.shape, r.b.hand) },
      { head: "Wood", cell: (r) => r.b.wood ?? "\u2013" },
    ], rows),
    piece.joints.length === 0
      ? h("p", {}, "One block, so there is nothing to glue.")
      : table("Glue joints", [
          { head: "Between", cell: (j) => j.between.map(name).join(" and ") },
          { head: "Area", number: true, cell: (j) => areaText(j.area_mm2, j.area_units) },
        ], piece.joints),
  );
}

interface Open {
  bodies: Body[];
  tables: HTMLElement;
}

function open(stage: Stage | null, piece: PieceBody, puzzle: PuzzleReply, spread: () => number): Open & { lay(): void } {
  const drawn = bodiesOf(piece, puzzle);
  const shifts = blockShifts(drawn.length, piece.joints);
  const bodies = stage ? drawn.map((b) => stage.add(b.mesh, { color: b.color })) : [];
  const point = (block: number | null): void =>
    bodies.forEach((body, i) => body.look({ color: drawn[i]!.color, lit: block === i ? 1 : 0 }));
  const ball = ballAround([{ xyz: piece.mesh.xyz, shift: [0, 0, 0] }]);
  const lay = (): void => {
    stage?.aim(ball.middle, ball.radius + spread());
    bodies.forEach((body, i) => body.group.position.set(...(shifts[i]!.map((v) => v * spread()) as Vec3)));
    stage?.draw();
  };
  return { bodies, tables: blockTables(piece, point), lay };
}

function showPieces(host: HTMLElement, puzzle: PuzzleReply, place: Place): Shown {
  const groups = kinds(puzzle);
  if (groups.length === 0) return showNothingClosed(host, puzzle);
  const pictures = createPictures();
  const box = h("div", { class: "stage" });
  const stage = tryStage(box, "The piece and its blocks", "Its blocks and glue joints are listed here.");
  const cards = h("div", { class: "cards pieces" });
  const heading = h("h2", { "aria-live": "polite" });
  const lists = h("div", {});
  const slider = h("input", { type: "range", min: 0, max: 100, value: "0", "aria-label": "how far the blocks are drawn apart" });
  const under = h("div", { class: "row under" }, h("label", { class: "spread" }, h("span", {}, "Draw the blocks apart"), slider));
  let chosen = groups[0]!;
  let now: (Open & { lay(): void }) | null = null;

  const draw = (fresh: boolean): void => {
    for (const body of now?.bodies ?? []) body.remove();
    const piece = chosen.first;
    now = open(stage, piece, puzzle, () => Number(slider.value) / 40);
    heading.textContent = chosen.all.length > 1 ? `${piece.of}, ${counted(chosen.all.length, "copy", "copies")}` : piece.name;
    show(lists, now.tables);
    under.hidden = piece.blocks.length < 2;
    if (fresh) stage?.frame(showingSide(piece.mesh));
    now.lay();
  };
  const choose = (name: string | undefined): void => {
    chosen = groups.find((g) => g.all.some((p) => p.name === name)) ?? groups[0]!;
    [...cards.children].forEach((c, i) => c.setAttribute("aria-pressed", String(groups[i] === chosen)));
    draw(true);
  };
  slider.addEventListener("input", () => now?.lay());
  show(cards, groups.map((g) => card(g, puzzle, pictures, g === chosen, groups.filter((o) => o.first.of === g.first.of).length === 1)));
  cards.addEventListener("click", () => choose(here().query["piece"]));
  show(host, cards, h("div", { class: "columns open-piece" }, h("div", { class: "bench" }, box, stage && under),
    h("section", { class: "sheet" }, heading, lists)));
  choose(place.query["piece"]);
  return {
    undo: () => {
      pictures.undo();
      stage?.dispose();
      show(host);
    },
    redraw: () => {
      draw(false);
      stage?.recolor();
    },
    moved: (to) => choose(to.query["piece"]),
  };
}

export const piecesPart: Part = { id: "pieces", title: "Pieces and blocks", show: showPieces };
