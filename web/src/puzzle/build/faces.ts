// faces.ts - the free faces as a list, block by block: what a pointer picks in space, a keyboard picks here.
import { h, show } from "../../dom";
import type { GlueReply } from "../model";
import { areaText, handed } from "../words";
import type { FaceAt } from "./workpiece";

export interface FaceList {
  element: HTMLElement;
  draw(glued: GlueReply | null, picked: FaceAt | null): void;
  focus(at: FaceAt | null): void;
}

//   point  a face is looked at, or none; `held` by the keyboard
//   take   a face is picked
export function createFaceList(point: (at: FaceAt | null, held: boolean) => void, take: (at: FaceAt) => void): FaceList {
  const element = h("div", { class: "free-faces" });
  const buttons = new Map<string, HTMLButtonElement>();
  const key = (at: FaceAt): string => `${at.block}|${at.face}`;
  return {
    element,
    draw: (glued, picked) => {
      buttons.clear();
      const group = (b: GlueReply["blocks"][number], block: number): HTMLElement => {
        const free = b.faces.filter((f) => f.free);
        const list = free.map((f) => {
          const at = { block, face: f.face };
          const off = (): void => point(null, false);
          const button = h(
            "button",
            {
              type: "button", class: "free-face",
              "aria-pressed": String(picked !== null && key(picked) === key(at)),
              "aria-label": `face ${f.face} of block ${block + 1}`,
              title: f.area_mm2 === null ? null : areaText(f.area_mm2, 0),
              onclick: () => take(at),
              onfocus: () => point(at, true), onblur: off, onpointerenter: () => point(at, false), onpointerleave: off,
            },
            f.face.replaceAll("-", "\u2212"),
          );
          buttons.set(key(at), button);
          return button;
        });
        return h("fieldset", {}, h("legend", {}, `${block + 1}  ${handed(b.shape, b.hand)}`),
          list.length > 0 ? list : h("small", {}, "no face is free"));
      };
      show(element, glued?.blocks.map(group) ?? []);
    },
    focus: (at) => (at ? buttons.get(key(at)) : [...buttons.values()].at(-1))?.focus(),
  };
}
