import { beforeEach, expect, it, vi } from "vitest";
import type * as DraftModule from "../../src/puzzle/build/draft";
import { record, undo } from "../../src/puzzle/build/history";

// As a reload leaves it: the modules begin anew, the tab's storage stays.
async function reloaded(): Promise<typeof DraftModule> {
  vi.resetModules();
  return import("../../src/puzzle/build/draft");
}

const wing = {
  name: "wing", copies: 8, mirrored_copies: 0, optional: false, keep_blocks: true, datum: ["+x+y"],
  blocks: [{ shape: "prism block", hand: "right" as const }],
};

beforeEach(() => sessionStorage.clear());

it("unsaved work survives a reload, with what can be undone", async () => {
  const before = await reloaded();
  const draft = before.newDraft("star.toml", 0, "v1", wing);
  draft.history = record(draft.history, { ...wing, blocks: [...wing.blocks, { shape: "squat octahedron", on: 1, face: "+x+z", turn: 2 }] });
  before.keepDraft(draft);
  const after = await reloaded();
  const kept = after.keptDraft("star.toml", 0);
  expect(kept).toEqual(draft);
  expect(after.isUnsaved(kept!)).toBe(true);
  expect(undo(kept!.history).now).toEqual(wing);
});

it("drafts of different pieces, new pieces and new designs do not mix", async () => {
  const d = await reloaded();
  const targets = [["star.toml", 0], ["star.toml", 1], ["star.toml", null], ["second.toml", 0], [null, null]] as const;
  targets.forEach(([design, piece], i) => {
    const draft = d.newDraft(design, piece, "", null);
    draft.history = record(draft.history, { ...wing, name: `piece ${i}` });
    d.keepDraft(draft);
  });
  targets.forEach(([design, piece], i) => expect(d.keptDraft(design, piece)?.history.now.name).toBe(`piece ${i}`));
});

it("work that is undone to what the file has is not kept", async () => {
  const d = await reloaded();
  const draft = d.newDraft("star.toml", 0, "v1", wing);
  draft.history = record(draft.history, { ...wing, copies: 3 });
  d.keepDraft(draft);
  draft.history = undo(draft.history);
  d.keepDraft(draft);
  expect(d.keptDraft("star.toml", 0)).toBeNull();
});

it("when a piece leaves the file, the work at later pieces moves up and its own is forgotten", async () => {
  const d = await reloaded();
  for (const piece of [0, 1, 2, null]) {
    const draft = d.newDraft("star.toml", piece, "v1", null);
    draft.history = record(draft.history, { ...wing, name: `at ${piece}` });
    d.keepDraft(draft);
  }
  d.pieceIsGone("star.toml", 1);
  expect(d.keptDraft("star.toml", 0)?.history.now.name).toBe("at 0");
  expect(d.keptDraft("star.toml", 1)?.history.now.name).toBe("at 2");
  expect(d.keptDraft("star.toml", 1)?.piece).toBe(1);
  expect(d.keptDraft("star.toml", 2)).toBeNull();
  expect(d.keptDraft("star.toml", null)?.history.now.name).toBe("at null");
});

it("a browser that keeps nothing, or keeps rubbish, is no obstacle", async () => {
  const d = await reloaded();
  sessionStorage.setItem("stickwright.drafts", "{ rubbish");
  expect(d.keptDraft("star.toml", 0)).toBeNull();
  const draft = d.newDraft("star.toml", 0, "v1", null);
  draft.history = record(draft.history, wing);
  const full = vi.spyOn(Storage.prototype, "setItem").mockImplementation(() => {
    throw new DOMException("full", "QuotaExceededError");
  });
  expect(() => d.keepDraft(draft)).not.toThrow();
  full.mockRestore();
});
