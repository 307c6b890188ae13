import { show } from "../dom";
import type { View } from "../view/view";
import { emptyBox } from "../view/notice";

export const sawView: View = {
  id: "saw",
  title: "Saw",
  mount(host) {
    show(host, emptyBox("Nothing to see yet."));
    return () => show(host);
  },
};
