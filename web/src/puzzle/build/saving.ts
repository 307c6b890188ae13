// saving.ts - puts the piece into its design file, or begins a file with it, or takes it out.
import { get, post, type Problem, type Reply } from "../../api";
import { change, type FolderView } from "../../state";
import type { DesignReply } from "../model";
import type { Draft } from "./draft";

export const CHANGED_SINCE = "changed_since";

// What has to be typed before it can be saved; "" when all is there.
export function missing(draft: Draft): string {
  const { now } = draft.history;
  if (now.blocks.length === 0) return "Nothing to save yet: pick the first block.";
  if (now.name.trim() === "") return "Give the piece a name first.";
  if (draft.design === null && draft.fresh.file.trim() === "") return "Give the new design a file name first.";
  return "";
}

function fileName(text: string): string {
  const name = text.trim();
  return name.endsWith(".toml") ? name : `${name}.toml`;
}

export interface Saved {
  design: string;
  piece: number;
  version: string;
}

// Looks into the folder anew, so that the row of designs has the new one, and what was written here is not taken for somebody else's doing.
async function lookAgain(design: string): Promise<void> {
  const folder = await get<FolderView>("/api/folder");
  if (folder.ok) change({ folder: folder.value, design });
}

export async function save(draft: Draft): Promise<Reply<Saved>> {
  const { now } = draft.history;
  if (draft.design === null) {
    const file = fileName(draft.fresh.file);
    const { solid, size, name } = draft.fresh;
    const reply = await post<{ version: string }>("/api/design/new", {
      file, name: name.trim() || file.replace(/\.toml$/, ""), family: "mitered", goal: solid ? { solid, size } : null, piece: now,
    });
    if (!reply.ok) return reply;
    await lookAgain(file);
    return { ok: true, value: { design: file, piece: 0, version: reply.value.version } };
  }
  const { design, piece, version } = draft;
  const reply = await post<{ version: string }>("/api/design/piece", { file: design, version, piece, ...now });
  if (!reply.ok) return reply;
  await lookAgain(design);
  if (piece !== null) return { ok: true, value: { design, piece, version: reply.value.version } };
  const read = await get<DesignReply>("/api/design", { file: design });
  if (!read.ok) return read;
  return { ok: true, value: { design, piece: read.value.pieces.length - 1, version: read.value.version } };
}

export async function takeOut(design: string, piece: number, version: string): Promise<Reply<{ version: string }>> {
  const reply = await post<{ version: string }>("/api/design/piece/remove", { file: design, version, piece });
  if (reply.ok) await lookAgain(design);
  return reply;
}

export function isStale(problem: Problem): boolean {
  return problem.code === CHANGED_SINCE;
}
