import { show } from "../dom";
import type { View } from "../view/view";
import { emptyBox } from "../view/notice";

export const puzzleView: View = {
  id: "puzzle",
  title: "Puzzle",
  mount(host) {
    show(host, emptyBox("Nothing to see yet."));
    return () => show(host);
  },
};
