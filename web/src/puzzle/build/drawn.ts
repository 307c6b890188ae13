// drawn.ts - a piece that its file gives as cells or as a stick: shown as it is, until it is built from its blocks.
import { get } from "../../api";
import { h, show } from "../../dom";
import { announce, problemBox } from "../../view/notice";
import { tryStage } from "../../view/stage";
import { showingSide, woodColor } from "../looks";
import type { BlockAsked, DesignPiece, DesignReply } from "../model";
import { counted } from "../words";
import { keepDraft, type Draft } from "./draft";
import type { Gluing } from "./gluing";
import { record, redo, undo } from "./history";
import { historyKeys } from "./keys";

//   changed  the draft is another: fields, buttons and the workplace follow
export function createDrawn(draft: Draft, design: DesignReply, piece: DesignPiece, changed: () => void): Gluing {
  const mitered = design.family === "mitered";
  const box = h("div", { class: "stage" });
  const stage = tryStage(box, `The piece ${piece.name}`, "What is said of it in the file can be changed here all the same.");
  stage?.add(piece.mesh, { color: woodColor(null, undefined) });
  stage?.frame(showingSide(piece.mesh));
  const said = h("div", {});
  const button = (label: string, click: () => void): HTMLButtonElement => h("button", { type: "button", onclick: click }, label);
  const backward = button("Undo", () => go(undo));
  const forward = button("Redo", () => go(redo));
  const adopt = button("Build from its blocks", () => void fromBlocks());
  let over = false;

  const put = (): void => {
    keepDraft(draft);
    backward.disabled = draft.history.past.length === 0;
    forward.disabled = draft.history.future.length === 0;
    changed();
  };
  const go = (how: typeof undo): void => {
    draft.history = how(draft.history);
    put();
  };
  const fromBlocks = async (): Promise<void> => {
    adopt.disabled = true;
    const reply = await get<{ blocks: BlockAsked[] }>("/api/design/blocks", { file: design.file, piece: String(draft.piece) });
    if (over) return;
    adopt.disabled = false;
    if (!reply.ok) return show(said, problemBox(reply.problem, () => void fromBlocks()));
    const { blocks } = reply.value;
    draft.history = record(draft.history, { ...draft.history.now, blocks, keep_blocks: false });
    announce(`Now it is built of ${counted(blocks.length, "block")}. Undo brings back what the file has.`);
    put();
  };
  const ways = h("section", { class: "sheet ways-place", "aria-label": "how it is drawn" },
    h("h2", {}, mitered ? "Given as cells" : "A stick with notches"),
    h("p", {}, mitered
      ? `${design.file} gives this piece as cells. They stay as they are: its name and its copies can be changed here. To change its form, build it from the blocks that it splits into.`
      : `Its form is written in ${design.file}: stick and notches, or cells. Its name and its copies can be changed here.`),
    mitered && h("p", {}, adopt), said);
  const facts = h("div", { class: "piece-facts" },
    h("p", {}, `${counted(piece.cells, "cell")}${piece.handed ? "; its mirror image is another piece" : ""}.`));
  const offKeys = historyKeys(() => go(undo), () => go(redo));
  backward.disabled = draft.history.past.length === 0;
  forward.disabled = draft.history.future.length === 0;
  return {
    element: h("div", { class: "bench" }, h("div", { class: "row tools" }, backward, forward), box),
    ways, facts,
    typed: (part, kind) => {
      draft.history = record(draft.history, { ...draft.history.now, ...part }, kind);
      put();
    },
    redraw: () => stage?.recolor(),
    undo: () => {
      over = true;
      offKeys();
      stage?.dispose();
    },
  };
}
