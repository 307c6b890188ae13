// index.ts - the Ledger: every reading of the batch, what the readings say, and what was done to the saw.
import { show } from "../dom";
import { current } from "../state";
import { emptyBox } from "../view/notice";
import type { View } from "../view/view";
import { filterOf } from "./filter";
import "./ledger.css";
import { ledgerPage, type LedgerPage } from "./page";

let shown: LedgerPage | null = null;

export const ledgerView: View = {
  id: "ledger",
  title: "Ledger",
  mount(host, place) {
    const { batch } = current();
    if (batch === "") {
      show(host, emptyBox("There is no batch in this folder yet. The ledger lies beside a batch: every reading of its blocks."));
      return () => show(host);
    }
    const page = (shown = ledgerPage(host, batch, filterOf(place)));
    return () => {
      page.undo();
      if (shown === page) shown = null;
    };
  },
  moved(place) {
    shown?.filter(filterOf(place));
  },
  redraw() {
    shown?.redraw();
  },
};
