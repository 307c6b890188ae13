// index.ts - building a piece: which piece of which design, the workplace, and what becomes of it in the file.
import { get } from "../../api";
import { choice, h, show } from "../../dom";
import { go, here, note, type Place } from "../../router";
import { current } from "../../state";
import { announce, emptyBox, problemBox, waitBox } from "../../view/notice";
import type { DesignReply } from "../model";
import type { Shown } from "../part";
import { createCopying } from "./copying";
import { forgetDraft, isUnsaved, keepDraft, keptDraft, newDraft, pieceDraft, pieceIsGone, staysDrawn, type Draft } from "./draft";
import { createDrawn } from "./drawn";
import { createFields } from "./fields";
import { createGluing, type Gluing } from "./gluing";
import { isStale, missing, save, takeOut, type Saved } from "./saving";

const NEW = "new"; // in the address: a design, or a piece, that is not there yet

interface Target {
  design: string | null;
  piece: number | null;
}

function targetOf(place: Place): Target {
  const { folder, design } = current();
  const none = (folder?.designs.length ?? 0) === 0 || design === "";
  if (none || place.query["of"] === NEW) return { design: null, piece: null };
  const piece = place.query["piece"];
  return { design, piece: piece === undefined ? 0 : /^\d+$/.test(piece) ? Number(piece) : null };
}

function placeOf(t: Target): Partial<Place> {
  const query: Record<string, string> = t.design === null
    ? { of: NEW }
    : { design: t.design, piece: t.piece === null ? NEW : String(t.piece) };
  return { view: "puzzle", part: "build", query };
}

function batchFor(design: string | null): string {
  const { folder, batch } = current();
  return design !== null && folder?.batches.some((b) => b.file === batch && b.designs.includes(design)) ? batch : "";
}

function chooser(t: Target, design: DesignReply | null): HTMLElement {
  const designs = (current().folder?.designs ?? []).map((d) => ({ id: d.file, label: d.name }));
  const where = choice([...designs, { id: "", label: "a new design" }], t.design ?? "", (id) =>
    go(placeOf({ design: id || null, piece: id ? 0 : null })));
  const unsaved = (piece: number | null): string => (keptDraft(t.design, piece) ? " (not saved)" : "");
  const pieces = (design?.pieces ?? []).map((p, i) => ({ id: String(i), label: `${p.name}${unsaved(i)}` }));
  const which = choice([...pieces, { id: NEW, label: `a new piece${unsaved(null)}` }], t.piece === null ? NEW : String(t.piece), (id) =>
    go(placeOf({ design: t.design, piece: id === NEW ? null : Number(id) })));
  return h("div", { class: "row chooser" },
    h("label", { class: "inline" }, h("span", {}, "Built for"), where),
    t.design !== null && h("label", { class: "inline" }, h("span", {}, "Piece"), which));
}

// Why the piece cannot be glued here; "" when it can.
function notHere(t: Target, design: DesignReply | null): string {
  if (design && design.family !== "mitered" && t.piece === null)
    return `The pieces of ${design.name} are sticks with notches. A new one is written in ${design.file}: stick, notches and at.`;
  return "";
}

function draftFor(t: Target, design: DesignReply | null): Draft {
  const kept = keptDraft(t.design, t.piece);
  if (kept) return kept;
  const piece = t.piece === null ? null : (design?.pieces[t.piece] ?? null);
  const draft = newDraft(t.design, t.piece, design?.version ?? "", piece ? pieceDraft(piece) : null);
  return piece && !piece.blocks ? { ...draft, drawn: true } : draft;
}

export function showBuild(host: HTMLElement, place: Place, headChanged: () => void): Shown {
  let gluing: Gluing | null = null;
  let over = false;

  const close = (): void => {
    gluing?.undo();
    gluing = null;
  };
  const open = async (to: Place): Promise<void> => {
    close();
    const t = targetOf(to);
    let design: DesignReply | null = null;
    if (t.design !== null) {
      show(host, waitBox("Reading the design."));
      const reply = await get<DesignReply>("/api/design", { file: t.design });
      if (over) return;
      if (!reply.ok) return show(host, chooser(t, null), problemBox(reply.problem, () => void open(to)));
      design = reply.value;
    }
    if (t.piece !== null && !design?.pieces[t.piece]) t.piece = null;
    note({ ...here(), ...placeOf(t) });
    const why = notHere(t, design);
    if (why) return show(host, chooser(t, design), emptyBox(why));
    workplace(t, design);
  };
  const workplace = (t: Target, design: DesignReply | null, draft = draftFor(t, design)): void => {
    const said = h("div", { "aria-live": "polite" });
    const fields = createFields(
      (part, kind) => gluing?.typed(part, kind),
      (part) => {
        Object.assign(draft.fresh, part);
        keepDraft(draft);
        gluing?.typed({}, "");
      },
    );
    const keepIt = h("button", { type: "button", class: "main", onclick: () => void store() }, "Save");
    const drop = h("button", { type: "button", onclick: () => dropChanges() }, "Drop the changes");
    const gone = h("button", { type: "button", class: "gone", onclick: () => void takeAway() }, "Delete this piece");
    const state = h("p", { class: "state" });
    const again = (): void => {
      if (over) return;
      close();
      workplace(t, design, draft);
    };
    const drawnHere = staysDrawn(draft) ? (design?.pieces[draft.piece ?? -1] ?? null) : null;
    const follow = (): void => {
      if (staysDrawn(draft) !== (drawnHere !== null)) return queueMicrotask(again); // from cells to blocks, or back
      const lacks = missing(draft);
      fields.fill(draft);
      const unsaved = isUnsaved(draft);
      keepIt.disabled = lacks !== "" || !unsaved;
      drop.hidden = !unsaved;
      gone.hidden = draft.piece === null;
      state.textContent = !unsaved ? (draft.saved ? `As it is in ${draft.design}.` : "") : lacks || "Not saved yet; kept in this tab of the browser.";
    };
    const store = async (): Promise<void> => {
      keepIt.disabled = true;
      show(said);
      const reply = await save(draft);
      if (over) return;
      if (reply.ok) {
        forgetDraft(draft.design, draft.piece);
        announce(`Saved in ${reply.value.design}.`);
        headChanged();
        await open({ ...here(), ...placeOf(reply.value) } as Place);
        return;
      }
      follow();
      show(said, problemBox(reply.problem), isStale(reply.problem) && ways());
    };
    // The file was changed elsewhere since it was read.
    const ways = (): HTMLElement =>
      h("div", { class: "row" },
        h("button", { type: "button", onclick: () => void afresh(true) }, "Read the file anew, keep my blocks"),
        h("button", { type: "button", onclick: () => void afresh(false) }, "Read the file anew, drop my blocks"),
        h("button", { type: "button", onclick: () => copying.open() }, "Save under another name"));
    const afresh = async (keep: boolean): Promise<void> => {
      const reply = await get<DesignReply>("/api/design", { file: draft.design ?? "" });
      if (over) return;
      if (!reply.ok) return show(said, problemBox(reply.problem));
      const piece = draft.piece === null ? null : (reply.value.pieces[draft.piece] ?? null);
      forgetDraft(draft.design, draft.piece);
      if (keep) {
        const saved = piece ? pieceDraft(piece) : null;
        keepDraft({ ...draft, piece: piece ? draft.piece : null, version: reply.value.version, saved });
      }
      announce(keep ? "Read anew. Your blocks are as they were; save again." : "Read anew.");
      await open(here());
    };
    const copied = async (to: Saved): Promise<void> => {
      if (over) return;
      forgetDraft(draft.design, draft.piece);
      announce(`Saved in ${to.design}.`);
      headChanged();
      await open({ ...here(), ...placeOf(to) } as Place);
    };
    const copying = createCopying(draft, (to) => void copied(to));
    const dropChanges = (): void => {
      forgetDraft(draft.design, draft.piece);
      announce("The changes are dropped.");
      void open(here());
    };
    const takeAway = async (): Promise<void> => {
      if (gone.dataset["sure"] !== "yes") {
        gone.dataset["sure"] = "yes";
        gone.textContent = `Really delete it from ${draft.design}`;
        return;
      }
      const { design: file, piece } = draft;
      if (file === null || piece === null) return;
      const reply = await takeOut(file, piece, draft.version);
      if (over) return;
      if (!reply.ok) return show(said, problemBox(reply.problem), isStale(reply.problem) && ways());
      pieceIsGone(file, piece);
      announce("The piece is out of the file.");
      await open({ ...here(), ...placeOf({ design: file, piece: 0 }) } as Place);
    };
    gone.addEventListener("blur", () => {
      delete gone.dataset["sure"];
      gone.textContent = "Delete this piece";
    });
    gluing = drawnHere && design ? createDrawn(draft, design, drawnHere, follow) : createGluing(draft, batchFor(draft.design), follow);
    const paper = h("section", { class: "sheet paper", "aria-label": "the piece in the file" },
      fields.design, fields.piece, h("div", { class: "row" }, keepIt, drop, gone), state, said, copying.element);
    show(host, chooser(t, design), h("div", { class: "columns build" }, gluing.element, h("div", { class: "beside" }, gluing.ways, gluing.facts, paper)));
    follow();
  };
  void open(place);
  return {
    undo: () => {
      over = true;
      close();
      show(host);
    },
    redraw: () => gluing?.redraw(),
    moved: (to) => void open(to),
  };
}
