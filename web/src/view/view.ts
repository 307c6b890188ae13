// view.ts - what every view of the page is.
import type { Place } from "../router";

export interface View {
  id: string; // in the address
  title: string; // in the row of views, and above the view
  // Draws the view into `host`, which is empty and has the view's heading before it.
  //   returns  its undo: what it drew with the graphics card, listens to or waits for is let go
  mount(host: HTMLElement, place: Place): () => void;
  // The place changed, but not the view. Left out: the view is drawn anew.
  moved?(place: Place): void;
  // Units or light changed. Left out: the view is drawn anew, and what was typed into it is lost.
  redraw?(): void;
  bare?: boolean; // fills the screen: no row of views, no heading
}
