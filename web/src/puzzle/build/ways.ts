// ways.ts - what can be glued on the picked face: every way with a picture, tried on the piece before it is taken.
import { choice, h, show } from "../../dom";
import { emptyBox } from "../../view/notice";
import type { MeshData } from "../../view/stage";
import type { CatalogueBlock, GlueReply, GlueWay, Vec3 } from "../model";
import { showingSide, woodColor } from "../looks";
import type { Picture, Pictures } from "../pictures";
import { areaText, counted, handed } from "../words";

export interface Filter {
  shape: string; // "" for all
  hand: string;
  fits: boolean;
  sawn: boolean;
}

const ADDED = 0xf0d9ae;
const ALL = "";

// Fills in pictures a few at a time, so that a long list answers at once.   returns  its undo
function drawLater(jobs: (() => void)[]): () => void {
  let waiting = 0;
  const some = (): void => {
    const end = performance.now() + 8;
    while (jobs.length > 0 && performance.now() < end) jobs.shift()!();
    waiting = jobs.length > 0 ? requestAnimationFrame(some) : 0;
  };
  waiting = requestAnimationFrame(some);
  return () => cancelAnimationFrame(waiting);
}

export function passes(way: GlueWay, filter: Filter): boolean {
  if (filter.shape !== ALL && way.shape !== filter.shape) return false;
  if (filter.hand !== ALL && (way.hand ?? "none") !== filter.hand) return false;
  if (filter.fits && (way.fits_goal === false || (way.left !== null && way.left < 0))) return false;
  return !filter.sawn || way.can_be_sawn;
}

interface Tried {
  try(mesh: MeshData | null): void;
  take(way: GlueWay): void;
}

function wayCard(way: GlueWay, does: Tried): HTMLElement {
  const facts = [
    way.of > 1 ? `way ${way.turn} of ${way.of}` : "",
    `${areaText(way.joint_area_mm2, way.joint_area_units)} of glue`,
    way.left === null ? "" : way.left < 0 ? `${counted(-way.left, "cell")} too many then` : `${counted(way.left, "cell")} left then`,
  ];
  const off = (): void => does.try(null);
  return h(
    "button",
    {
      type: "button", class: "card way-card",
      onclick: () => does.take(way),
      onfocus: () => does.try(way.mesh), onblur: off,
      onpointerenter: () => does.try(way.mesh), onpointerleave: off,
    },
    h("span", { class: "picture none" }),
    h("strong", {}, handed(way.shape, way.hand)),
    h("small", {}, facts.filter((f) => f !== "").join("; ")),
    way.fits_goal === false && h("small", { class: "doubt" }, "does not fit into the goal"),
    !way.can_be_sawn && h("small", { class: "doubt" }, "no cuts for this block are known"),
  );
}

function filterRow(ways: readonly GlueWay[], filter: Filter, changed: () => void): HTMLElement {
  const shapes = [...new Set(ways.map((w) => w.shape))].sort();
  const options = (all: string, names: readonly string[]): { id: string; label: string }[] =>
    [{ id: ALL, label: all }, ...names.map((id) => ({ id, label: id }))];
  const set = (part: Partial<Filter>): void => {
    Object.assign(filter, part);
    changed();
  };
  const shape = choice(options("every shape", shapes), shapes.includes(filter.shape) ? filter.shape : ALL, (id) => set({ shape: id }));
  const hand = choice(
    [...options("either hand", []), { id: "right", label: "right-handed" }, { id: "left", label: "left-handed" }, { id: "none", label: "no hand" }],
    filter.hand, (id) => set({ hand: id }));
  shape.setAttribute("aria-label", "shape");
  hand.setAttribute("aria-label", "hand");
  const tick = (label: string, key: "fits" | "sawn"): HTMLElement => {
    const box = h("input", { type: "checkbox", checked: filter[key], onchange: () => set({ [key]: box.checked }) });
    return h("label", { class: "tick" }, box, label);
  };
  const goal = ways.some((w) => w.left !== null);
  return h("div", { class: "row filter" }, shape, hand, goal && tick("only what fits the goal", "fits"), tick("only what can be sawn", "sawn"));
}

//   normal  of the picked face: the pictures are seen from its side
export function showWays(
  host: HTMLElement, ways: readonly GlueWay[], glued: GlueReply, normal: Vec3, filter: Filter, pictures: Pictures, does: Tried,
): () => void {
  let stop = (): void => undefined;
  const cards = h("div", { class: "cards ways" });
  const count = h("p", { role: "status" });
  const eye = showingSide(glued.mesh, normal);
  const wood = woodColor(null, undefined);
  const standing = glued.blocks.map((b): Picture => ({ mesh: b.mesh, color: wood }));
  const draw = (): void => {
    stop();
    const some = ways.filter((w) => passes(w, filter));
    const shown = some.map((way) => wayCard(way, does));
    count.textContent = some.length === ways.length
      ? `${counted(ways.length, "way")} to glue a block on this face.`
      : `${some.length} of ${counted(ways.length, "way")} to glue a block on this face.`;
    show(cards, shown);
    stop = drawLater(some.map((way, i) => () => {
      shown[i]!.firstElementChild?.replaceWith(pictures.of([...standing, { mesh: way.mesh, color: ADDED }], "", eye));
    }));
  };
  if (ways.length === 0) show(host, emptyBox("Nothing goes on this face without meeting another block. Pick another face."));
  else show(host, filterRow(ways, filter, draw), count, cards);
  draw();
  return () => stop();
}

// The block that a piece begins with.
export function showFirst(
  host: HTMLElement, blocks: readonly CatalogueBlock[], pictures: Pictures, take: (block: CatalogueBlock) => void,
): () => void {
  const wood = woodColor(null, undefined);
  const cards = blocks.map((b) =>
    h(
      "button",
      { type: "button", class: "card way-card", onclick: () => take(b) },
      h("span", { class: "picture none" }),
      h("strong", {}, handed(b.shape, b.hand)),
      h("small", {}, `${counted(b.cells, "cell")}, ${counted(b.faces, "face")}`),
      !b.can_be_sawn && h("small", { class: "doubt" }, b.why_not || "no cuts for this block are known"),
    ),
  );
  show(host, h("p", {}, "Which block does the piece begin with?"), h("div", { class: "cards ways" }, cards));
  return drawLater(blocks.map((b, i) => () => {
    cards[i]!.firstElementChild?.replaceWith(pictures.of([{ mesh: b.mesh, color: wood }], ""));
  }));
}
