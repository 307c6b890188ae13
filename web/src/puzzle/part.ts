// part.ts - what each part of the puzzle view is: one at a time fills the place under the row of parts.
import type { Place } from "../router";
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
