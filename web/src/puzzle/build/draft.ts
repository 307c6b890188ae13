// draft.ts - a piece that is built and not yet in the file. It is kept in the browser's tab: a reload, or a look at
// another view, loses nothing.
import type { BlockAsked, DesignPiece } from "../model";
import { begin, type History } from "./history";

export interface PieceDraft {
  name: string;
  copies: number;
  mirrored_copies: number;
  optional: boolean;
  keep_blocks: boolean;
  datum: string[];
  blocks: BlockAsked[];
}

export interface NewDesign {
  file: string;
  name: string;
  solid: string; // "" for none
  size: number;
}

export interface Draft {
  design: string | null; // null: a new one
  piece: number | null; // of the design; null: a new one
  version: string; // of the file that the piece was read from
  fresh: NewDesign;
  saved: PieceDraft | null; // as the file has it
  drawn?: boolean; // the file gives cells or a stick; without blocks it stays as it is drawn there
  history: History<PieceDraft>;
}

const KEPT = "stickwright.drafts";
const NO_PIECE: PieceDraft = {
  name: "", copies: 1, mirrored_copies: 0, optional: false, keep_blocks: false, datum: [], blocks: [],
};

export function keyOf(design: string | null, piece: number | null): string {
  return `${design ?? ""}#${piece ?? "new"}`;
}

export function pieceDraft(piece: DesignPiece): PieceDraft {
  const { name, copies, mirrored_copies, optional, keep_blocks, datum, blocks } = piece;
  return { name, copies, mirrored_copies, optional, keep_blocks, datum, blocks: blocks ?? [] };
}

export function newDraft(design: string | null, piece: number | null, version: string, saved: PieceDraft | null): Draft {
  return {
    design, piece, version, saved,
    fresh: { file: "", name: "", solid: "", size: 1 },
    history: begin(saved ?? NO_PIECE),
  };
}

// Nothing of the piece's form is changed here: it stays as the file draws it.
export function staysDrawn(draft: Draft): boolean {
  return draft.drawn === true && draft.history.now.blocks.length === 0;
}

export function isUnsaved(draft: Draft): boolean {
  return JSON.stringify(draft.history.now) !== JSON.stringify(draft.saved ?? NO_PIECE);
}

type Store = Record<string, Draft>;

function read(): Store {
  try {
    return JSON.parse(sessionStorage.getItem(KEPT) ?? "{}") as Store;
  } catch {
    return {};
  }
}

function write(store: Store): void {
  try {
    sessionStorage.setItem(KEPT, JSON.stringify(store));
  } catch {
    // A browser that keeps nothing: the work lasts as long as the page does.
  }
}

export function keptDraft(design: string | null, piece: number | null): Draft | null {
  return read()[keyOf(design, piece)] ?? null;
}

// Keeps what is not in the file yet, and forgets what is.
export function keepDraft(draft: Draft): void {
  const store = read();
  const key = keyOf(draft.design, draft.piece);
  if (isUnsaved(draft)) store[key] = draft;
  else delete store[key];
  write(store);
}

export function forgetDraft(design: string | null, piece: number | null): void {
  const store = read();
  delete store[keyOf(design, piece)];
  write(store);
}

// After piece `gone` left the file: drafts of later pieces move up.
export function pieceIsGone(design: string, gone: number): void {
  const moved: Store = {};
  for (const draft of Object.values(read())) {
    if (draft.design === design && draft.piece === gone) continue;
    const piece = draft.design === design && draft.piece !== null && draft.piece > gone ? draft.piece - 1 : draft.piece;
    moved[keyOf(draft.design, piece)] = { ...draft, piece };
  }
  write(moved);
}
