// cast.ts - the pieces of the closed puzzle on a stage: colors, names beside them, one pointed out.
import { h } from "../dom";
import { type Body, type Stage } from "../view/stage";
import { cssOf, pieceColors } from "./looks";
import type { PuzzleReply, Vec3 } from "./model";

export interface Cast {
  bodies: Body[]; // as the pieces
  colors: number[];
  point(piece: number | null): void; // points a piece out, or none
  fade(away: readonly boolean[]): void;
  move(shift: (piece: number) => Vec3): void;
  names(all: boolean): void; // names at every piece, or only at the one pointed out
  undo(): void;
}

const FADED = 0.13;

// Without a stage nothing is drawn, but the list beside it can still point.
//   pointed   the piece under the pointer, or null when it left
export function putOn(stage: Stage | null, host: HTMLElement, puzzle: PuzzleReply, pointed: (piece: number | null) => void): Cast {
  const { pieces } = puzzle;
  const colors = pieceColors(pieces, puzzle.lightness);
  const bodies = stage ? pieces.map((p, i) => stage.add(p.mesh, { color: colors[i]! })) : [];
  const tags = pieces.map((p) => h("span", { class: "tag", "aria-hidden": "true", hidden: true }, p.name));
  host.append(...tags);
  let lit: number | null = null;
  let all = false;
  let away: readonly boolean[] = [];
  let worn: string[] = [];

  const dress = (): void => {
    bodies.forEach((body, i) => {
      const gone = away[i] === true && lit !== i;
      const wear = `${gone}${lit === i}`;
      if (worn[i] === wear) return;
      worn[i] = wear;
      body.look({ color: colors[i]!, opacity: gone ? FADED : 1, lit: lit === i ? 1 : 0 });
    });
    stage?.draw();
  };
  const place = (): void => {
    tags.forEach((tag, i) => {
      tag.hidden = !stage || !(lit === i || (all && away[i] !== true));
      if (tag.hidden || !stage) return;
      const shift = bodies[i]!.group.position.toArray();
      const [x, y] = stage.place(pieces[i]!.middle.map((v, k) => v + shift[k]!) as Vec3);
      tag.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(-50%, -50%)`;
    });
  };
  const offDrawn = stage?.onDrawn(place);
  const point = (piece: number | null): void => {
    if (piece === lit) return;
    lit = piece;
    dress();
  };
  const onMove = (event: PointerEvent): void => {
    if (event.buttons !== 0) return;
    const hit = stage?.pick(event.clientX, event.clientY);
    const piece = hit ? bodies.indexOf(hit.body) : -1;
    if ((piece < 0 ? null : piece) === lit) return;
    point(piece < 0 ? null : piece);
    pointed(lit);
  };
  const onLeave = (): void => (point(null), pointed(null));
  stage?.canvas.addEventListener("pointermove", onMove);
  stage?.canvas.addEventListener("pointerup", onMove);
  stage?.canvas.addEventListener("pointerleave", onLeave);

  return {
    bodies,
    colors,
    point,
    fade: (to) => {
      away = to;
      dress();
    },
    move: (shift) => {
      bodies.forEach((body, i) => body.group.position.set(...shift(i)));
      stage?.draw();
    },
    names: (to) => {
      all = to;
      stage?.draw();
    },
    undo: () => {
      offDrawn?.();
      for (const body of bodies) body.remove();
      for (const tag of tags) tag.remove();
    },
  };
}

// The list of pieces beside the stage: focus or hover points one out.
export function castList(puzzle: PuzzleReply, cast: Cast): { list: HTMLElement; mark: (piece: number | null) => void } {
  const buttons = puzzle.pieces.map((p, i) => {
    const off = (): void => cast.point(null);
    return h(
      "button",
      {
        type: "button",
        onpointerenter: () => cast.point(i), onfocus: () => cast.point(i), onpointerleave: off, onblur: off,
        onclick: () => cast.point(i),
      },
      swatch(cast.colors[i]!),
      h("span", {}, p.name),
      p.woods.length > 0 && h("small", {}, p.woods.join(", ")),
    );
  });
  const named = puzzle.pieces.map((p, i) => ({ name: p.name, button: buttons[i]! }));
  named.sort((a, b) => a.name.localeCompare(b.name, "en", { numeric: true }));
  const list = h("ul", { class: "cast" }, named.map((n) => h("li", {}, n.button)));
  return { list, mark: (piece) => buttons.forEach((b, i) => b.classList.toggle("pointed", i === piece)) };
}

export function swatch(color: number): HTMLElement {
  const spot = h("i", { class: "piece-swatch", "aria-hidden": "true" });
  spot.style.background = cssOf(color);
  return spot;
}
