// part.ts - what each part of the puzzle view is: one at a time fills the place under the row of parts.
import { h, show } from "../dom";
import { hashOf, type Place } from "../router";
import { emptyBox } from "../view/notice";
import type { PuzzleReply } from "./model";

export interface Shown {
  undo(): void;
  redraw(): void; // units or light changed; nothing that was chosen or typed is lost
  moved?(place: Place): void; // the address changed within this part
}

export interface Part {
  id: string; // in the address
  title: string;
  // Draws itself into `host` from what the program said of the design.
  show(host: HTMLElement, puzzle: PuzzleReply, place: Place): Shown;
}

// Where no assembly is known there is nothing closed to look at: says why, and where to go on.
export function showNothingClosed(host: HTMLElement, puzzle: PuzzleReply): Shown {
  const on = h("a", { class: "button", href: hashOf({ view: "puzzle", part: "build", query: { design: puzzle.file } }) }, "Go on building");
  show(host, emptyBox("There is no closed puzzle to show yet.", ...puzzle.says.map((s) => h("p", {}, s)), h("p", {}, on)));
  return { undo: () => show(host), redraw: () => undefined };
}
