// gluing.ts - the workplace of one piece: pick a face, try the ways, glue one, take it back.
import { get } from "../../api";
import { h, show } from "../../dom";
import { announce, problemBox } from "../../view/notice";
import { normal } from "../looks";
import type { BlockAsked, CatalogueBlock, GlueReply, GlueWay } from "../model";
import { createPictures } from "../pictures";
import { counted, handed } from "../words";
import { createAsker } from "./asking";
import { keepDraft, type Draft, type PieceDraft } from "./draft";
import { createFaceList } from "./faces";
import { drawFacts } from "./facts";
import { record, redo, undo } from "./history";
import { historyKeys } from "./keys";
import { showFirst, showWays, type Filter } from "./ways";
import { createWorkpiece, type FaceAt } from "./workpiece";

export interface Gluing {
  element: HTMLElement;
  facts: HTMLElement;
  ways: HTMLElement;
  typed(part: Partial<PieceDraft>, kind: string): void;
  redraw(): void;
  undo(): void;
}

const filter: Filter = { shape: "", hand: "", fits: false, sawn: false }; // kept while the page lives

//   batch    says what the sticks and the saw are like; "" for none
//   changed  the draft is another: fields and buttons follow
export function createGluing(draft: Draft, batch: string, changed: () => void): Gluing {
  const pictures = createPictures();
  const gluing = createAsker();
  const looking = createAsker();
  const facts = h("div", { class: "piece-facts" });
  const ways = h("section", { class: "sheet ways-place", "aria-label": "ways to glue" });
  const element = h("div", { class: "bench" });
  let glued: GlueReply | null = null;
  let picked: FaceAt | null = null;
  let stopWays = (): void => undefined;
  let catalogue: CatalogueBlock[] | null = null;
  let late = 0;
  let toFaces = false; // the keyboard glued: it goes on at the faces of the new block
  let over = false;

  const work = createWorkpiece(element, (at) => take(at));
  const faces = createFaceList((at, held) => {
    work.hint(at);
    if (at && held) work.turnTo(at);
  }, (at) => take(at));
  const button = (label: string, click: () => void): HTMLButtonElement => h("button", { type: "button", onclick: click }, label);
  const backward = button("Undo", () => go(undo, "Undone"));
  const forward = button("Redo", () => go(redo, "Redone"));
  const last = button("Take off the last block", () => takeOff());
  element.prepend(h("div", { class: "row tools" }, backward, forward, last));
  element.append(h("section", { class: "sheet faces-place", "aria-label": "free faces" }, h("h2", {}, "Free faces"), faces.element));

  const question = (more: object = {}): object => {
    const { blocks, copies, mirrored_copies } = draft.history.now;
    const { solid, size } = draft.fresh;
    const goal = draft.design === null && solid ? { solid, size } : null; // of a design not saved yet
    return { design: draft.design, goal, family: "mitered", piece: draft.piece, copies, mirrored_copies, blocks, ...more };
  };
  const buttons = (): void => {
    backward.disabled = draft.history.past.length === 0;
    forward.disabled = draft.history.future.length === 0;
    last.disabled = draft.history.now.blocks.length === 0;
  };
  const put = (): void => {
    keepDraft(draft);
    buttons();
    changed();
  };
  const setBlocks = (blocks: BlockAsked[], say: string): void => {
    draft.history = record(draft.history, { ...draft.history.now, blocks });
    picked = null;
    put();
    void look(say);
  };
  const go = (how: typeof undo, say: string): void => {
    const before = draft.history;
    draft.history = how(draft.history);
    if (before === draft.history) return;
    picked = null;
    put();
    void look(say);
  };
  const takeOff = (): void => {
    const { blocks } = draft.history.now;
    if (blocks.length > 0) setBlocks(blocks.slice(0, -1), "The last block is off");
  };

  // Asks what the piece is now, and draws it.
  const look = async (say: string): Promise<void> => {
    const { blocks } = draft.history.now;
    if (blocks.length === 0) {
      gluing.end();
      glued = null;
      announce(say);
      return draw();
    }
    const reply = await gluing.ask<GlueReply>("/api/glue", question(), { batch });
    if (!reply || over) return;
    if (!reply.ok) return show(ways, problemBox(reply.problem, () => void look(say)));
    glued = reply.value;
    const left = glued.goal ? `, ${glued.goal.left < 0 ? `${-glued.goal.left} cells too many` : `${counted(glued.goal.left, "cell")} left`}` : "";
    if (say) announce(`${say}: ${counted(blocks.length, "block")}${left}. ${glued.warnings.map((w) => w.say).join(" ")}`);
    draw();
  };
  const draw = (): void => {
    element.classList.toggle("nothing", glued === null);
    work.draw(glued);
    work.pick(picked);
    faces.draw(glued, picked);
    drawFacts(facts, glued);
    if (toFaces && picked === null) faces.focus(null);
    toFaces = false;
    void drawWays();
  };
  const teach = (): void =>
    show(ways, h("h2", {}, "What comes next"),
      h("p", {}, "Turn the piece and pick one of its faces, here in space or in the list of free faces. Then everything that can be glued there is shown."));
  const drawWays = async (): Promise<void> => {
    stopWays();
    if (!glued) return first();
    const face = picked && glued.blocks[picked.block]?.faces.find((f) => f.face === picked!.face);
    if (!picked || !face) return teach();
    const reply = await looking.ask<{ ways: GlueWay[] }>("/api/glue/ways", question({ on: picked.block + 1, face: picked.face }), { batch });
    if (!reply || over || !glued || !picked) return;
    if (!reply.ok) return show(ways, problemBox(reply.problem, () => void drawWays()));
    const list = h("div", {});
    const to = picked;
    show(ways, h("h2", { tabindex: -1 }, `On face ${to.face.replaceAll("-", "\u2212")} of block ${to.block + 1}`), list);
    const n = normal(face.polygon[0]!, face.polygon[1]!, face.polygon[2]!);
    stopWays = showWays(list, reply.value.ways, glued, n, filter, pictures, { try: work.ghost, take: (way) => glue(way, to) });
  };
  const first = async (): Promise<void> => {
    if (!catalogue) {
      const reply = await get<{ blocks: CatalogueBlock[] }>("/api/catalogue", { family: "mitered", batch });
      if (over) return;
      if (!reply.ok) return show(ways, problemBox(reply.problem, () => void first()));
      catalogue = reply.value.blocks;
    }
    stopWays = showFirst(ways, catalogue, pictures, (b) => {
      toFaces = ways.contains(document.activeElement);
      setBlocks([{ shape: b.shape, ...(b.hand ? { hand: b.hand } : {}) }], `Begun with a ${handed(b.shape, b.hand)}`);
    });
  };
  const take = (at: FaceAt): void => {
    const byKey = faces.element.contains(document.activeElement);
    picked = at;
    work.pick(at);
    work.turnTo(at);
    faces.draw(glued, at);
    if (byKey) faces.focus(at);
    void drawWays().then(() => {
      const found = ways.querySelectorAll(".way-card").length;
      if (!over) announce(`Face ${at.face} of block ${at.block + 1}: ${counted(found, "way")} to glue.`);
    });
  };
  const glue = (way: GlueWay, to: FaceAt): void => {
    const block: BlockAsked = { shape: way.shape, ...(way.hand ? { hand: way.hand } : {}), on: to.block + 1, face: to.face, turn: way.turn };
    toFaces = ways.contains(document.activeElement);
    setBlocks([...draft.history.now.blocks, block], `Glued ${handed(way.shape, way.hand)}`);
  };

  const offKeys = historyKeys(() => go(undo, "Undone"), () => go(redo, "Redone"));
  buttons();
  void look("");
  return {
    element, facts, ways,
    typed: (part, kind) => {
      draft.history = record(draft.history, { ...draft.history.now, ...part }, kind);
      put();
      if (kind === "name") return;
      clearTimeout(late);
      late = window.setTimeout(() => void look(""), 250);
    },
    redraw: () => {
      work.recolor();
      drawFacts(facts, glued);
      void drawWays();
    },
    undo: () => {
      over = true;
      clearTimeout(late);
      offKeys();
      gluing.end();
      looking.end();
      stopWays();
      pictures.undo();
      work.undo();
    },
  };
}
