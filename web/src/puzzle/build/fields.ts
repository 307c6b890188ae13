// fields.ts - what is typed of a piece: its name, how many, and of a new design where it goes.
import { choice, field, h, show } from "../../dom";
import { staysDrawn, type Draft, type NewDesign, type PieceDraft } from "./draft";

const SOLIDS: { id: string; label: string }[] = [
  { id: "", label: "none yet: the pieces stand where they are drawn" },
  ...["rhombic dodecahedron", "first stellation of the rhombic dodecahedron", "second stellation of the rhombic dodecahedron",
    "third stellation of the rhombic dodecahedron"].map((id) => ({ id, label: id })),
];

export interface Fields {
  piece: HTMLElement;
  design: HTMLElement;
  fill(draft: Draft): void; // as undo left it; what has the focus stays as it is typed
}

//   typed  part of the piece was changed; `kind` names the field
export function createFields(
  typed: (part: Partial<PieceDraft>, kind: string) => void, freshTyped: (part: Partial<NewDesign>) => void,
): Fields {
  const text = (take: (value: string) => void, hint = ""): HTMLInputElement => {
    const input = h("input", { type: "text", placeholder: hint, autocomplete: "off", oninput: () => take(input.value) });
    return input;
  };
  const number = (take: (value: number) => void): HTMLInputElement => {
    const input = h("input", {
      type: "number", min: 0, max: 64, inputmode: "numeric",
      oninput: () => input.value !== "" && input.validity.valid && take(Number(input.value)),
    });
    return input;
  };
  const name = text((v) => typed({ name: v }, "name"), "for instance: wing");
  const copies = number((v) => typed({ copies: v }, "copies"));
  const mirrored = number((v) => typed({ mirrored_copies: v }, "mirrored"));
  const keep = h("input", { type: "checkbox", onchange: () => typed({ keep_blocks: keep.checked }, "") });
  const optional = h("input", { type: "checkbox", onchange: () => typed({ optional: optional.checked }, "") });
  const keepLine = h("div", {}, h("label", { class: "tick" }, keep, "Make it of these blocks, even if fewer would do"));
  const file = text((v) => freshTyped({ file: v }), "for instance: mine.toml");
  const title = text((v) => freshTyped({ name: v }), "as it stands on the card");
  const size = number((v) => freshTyped({ size: v }));
  size.min = "1";
  size.max = "3";
  const solid = choice(SOLIDS, "", (id) => {
    freshTyped({ solid: id });
    sizeField.hidden = id === "";
  });
  const sizeField = field("Size", size, "1 for the smallest");
  const put = (input: HTMLInputElement, value: string): void => {
    if (document.activeElement !== input) input.value = value;
  };
  const piece = h("div", {});
  show(
    piece,
    field("Name of the piece", name),
    h("div", { class: "row" }, field("Copies", copies), field("Mirrored copies", mirrored)),
    h("label", { class: "tick" }, optional, "An assembly may leave it out"),
    keepLine,
  );
  const design = h("div", {}, field("File", file), field("Name of the puzzle", title), field("The solid to fill", solid), sizeField);
  return {
    piece,
    design,
    fill: (draft) => {
      const { now } = draft.history;
      put(name, now.name);
      put(copies, String(now.copies));
      put(mirrored, String(now.mirrored_copies));
      keep.checked = now.keep_blocks;
      keepLine.hidden = staysDrawn(draft);
      optional.checked = now.optional;
      put(file, draft.fresh.file);
      put(title, draft.fresh.name);
      put(size, String(draft.fresh.size));
      solid.value = draft.fresh.solid;
      sizeField.hidden = draft.fresh.solid === "";
      design.hidden = draft.design !== null;
    },
  };
}
