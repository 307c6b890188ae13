import { show } from "../dom";
import type { View } from "../view/view";
import { emptyBox } from "../view/notice";

export const fitView: View = {
  id: "fit",
  title: "Fit",
  mount(host) {
    show(host, emptyBox("Nothing to see yet."));
    return () => show(host);
  },
};
