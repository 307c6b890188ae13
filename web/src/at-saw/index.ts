import { show } from "../dom";
import type { View } from "../view/view";
import { emptyBox } from "../view/notice";

export const atSawView: View = {
  id: "at-saw",
  title: "At the saw",
  mount(host) {
    show(host, emptyBox("Nothing to see yet."));
    return () => show(host);
  },
};
