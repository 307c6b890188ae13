// index.ts - the puzzle view: which design, which part of the view, and what the program said of it.
import "./puzzle.css";
import { get } from "../api";
import { choice, h, show } from "../dom";
import { go, hashOf, type Place } from "../router";
import { change, current } from "../state";
import { emptyBox, problemBox, waitBox } from "../view/notice";
import type { View } from "../view/view";
import { apartPart } from "./apart";
import { showBuild } from "./build";
import type { PuzzleReply } from "./model";
import type { Part, Shown } from "./part";
import { piecesPart } from "./pieces";
import { showSearch } from "./search";
import { touchingPart } from "./touching";

const PARTS: readonly Part[] = [apartPart, piecesPart, touchingPart];
// These do not wait until the program has put the puzzle together, which may take long.
const SEARCH = { id: "search", title: "All assemblies" };
const BUILD = { id: "build", title: "Build a piece" };

const TAKES_LONG =
  'Still putting the puzzle together: there is much to try. "All assemblies" shows how far such a search is, and can end it.';

interface Open {
  host: HTMLElement;
  head: HTMLElement;
  without: HTMLElement; // why the batch says nothing of the design
  body: HTMLElement;
  asking: AbortController;
  place: Place;
  design: string; // that is drawn
  shown: Shown | null;
  puzzle: PuzzleReply | null;
}
let open: Open | null = null;

// The batch says which woods; it is asked about only when the design is in it.
function batchOf(design: string): string {
  const { folder, batch } = current();
  return folder?.batches.some((b) => b.file === batch && b.designs.includes(design)) ? batch : "";
}

function drawHead(o: Open): void {
  const { folder, design } = current();
  const designs = (folder?.designs ?? []).map((d) => ({ id: d.file, label: `${d.name} (${d.file})` }));
  const select = choice(designs, design, (to) => go({ ...o.place, query: { design: to } }));
  const link = (p: { id: string; title: string }): HTMLElement =>
    h("a", {
      href: hashOf({ view: "puzzle", part: p.id, query: design ? { design } : {} }),
      "aria-current": p.id === o.place.part ? "page" : null,
    }, p.title);
  show(
    o.head,
    designs.length > 0 && o.place.part !== BUILD.id && h("label", { class: "inline" }, h("span", {}, "Design"), select),
    h("ul", { class: "puzzle-parts" }, [...PARTS, SEARCH, BUILD].map((p) => h("li", {}, link(p)))),
  );
  o.head.querySelector("[aria-current]")?.scrollIntoView({ block: "nearest", inline: "nearest" });
}

function nothingYet(): HTMLElement {
  return emptyBox(
    "No design in this folder yet: build one. It starts with one block; the next is glued on one of its faces.",
    h("p", {}, h("a", { class: "button", href: hashOf({ view: "puzzle", part: BUILD.id }) }, "Build a piece")),
  );
}

async function load(o: Open): Promise<PuzzleReply | null> {
  const { design } = current();
  if (o.puzzle?.file === design) return o.puzzle;
  o.asking.abort();
  o.asking = new AbortController();
  const slow = setTimeout(() => show(o.body, waitBox("Putting the puzzle together.")), 150);
  const slower = setTimeout(() => show(o.body, waitBox(TAKES_LONG)), 5000);
  try {
    const { signal } = o.asking;
    const batch = batchOf(design);
    const again = (): void => {
      o.puzzle = null;
      void draw(o);
    };
    let reply = await get<PuzzleReply>("/api/puzzle", { design, batch }, signal);
    if (open !== o || signal.aborted) return null;
    show(o.without);
    if (!reply.ok && batch !== "" && reply.status === 422) {
      // A design is there to be looked at, whatever is wrong with the batch that it is made in.
      const of = reply.problem;
      reply = await get<PuzzleReply>("/api/puzzle", { design }, signal);
      if (open !== o || signal.aborted) return null;
      if (reply.ok) show(o.without, problemBox(of, again), h("p", {}, "So the batch cannot say which woods and sizes the pieces have: they are shown without."));
    }
    if (reply.ok) return (o.puzzle = reply.value);
    show(o.body, problemBox(reply.problem, again));
  } catch {
    // Aborted: another design is asked for, or the view is left.
  } finally {
    clearTimeout(slow);
    clearTimeout(slower);
  }
  return null;
}

async function draw(o: Open): Promise<void> {
  o.shown?.undo();
  o.shown = null;
  o.design = current().design;
  show(o.body);
  drawHead(o);
  if (o.place.part === BUILD.id) {
    o.puzzle = null; // it may be saved differently there
    o.asking.abort();
    o.shown = showBuild(o.body, o.place, () => drawHead(o));
    return;
  }
  if (current().design === "") return show(o.body, nothingYet());
  if (o.place.part === SEARCH.id) {
    o.asking.abort();
    o.shown = showSearch(o.body, o.design, o.puzzle?.file === o.design ? o.puzzle.says : []);
    return;
  }
  const puzzle = await load(o);
  const part = PARTS.find((p) => p.id === o.place.part) ?? PARTS[0]!;
  if (puzzle && open === o) {
    show(o.body);
    o.shown = part.show(o.body, puzzle, o.place);
  }
}

export const puzzleView: View = {
  id: "puzzle",
  title: "Puzzle",
  mount(host, place) {
    const o: Open = {
      host, place, design: "", shown: null, puzzle: null, asking: new AbortController(),
      head: h("nav", { class: "puzzle-head", "aria-label": "parts of this view" }), without: h("div"), body: h("div", { class: "puzzle" }),
    };
    open = o;
    if (place.query["design"]) change({ design: place.query["design"] });
    show(host, o.head, o.without, o.body);
    void draw(o);
    return () => {
      o.asking.abort();
      o.shown?.undo();
      if (open === o) open = null;
      show(host);
    };
  },
  moved(place) {
    const o = open;
    if (!o) return;
    const same = o.place.part === place.part && o.design === current().design;
    o.place = place;
    if (same && o.shown?.moved) o.shown.moved(place);
    else void draw(o);
  },
  redraw() {
    open?.shown?.redraw();
  },
};
