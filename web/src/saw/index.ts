// saw - the set-ups at the desk: as cards, one of them opened, and the truing of the saw.
import "./saw.css";
import { h, show } from "../dom";
import { hashOf, type Place } from "../router";
import { current } from "../state";
import { emptyBox, problemBox, waitBox } from "../view/notice";
import type { View } from "../view/view";
import { askSetUps, askTruing } from "./ask";
import { cardsOf, cautionsBox } from "./cards";
import type { SetUps } from "./model";
import { openSetUp } from "./set-up";
import { openTruing } from "./truing";

interface Open {
  redraw(): void;
  undo(): void;
}

function openCards(host: HTMLElement, data: SetUps, missing: string): Open {
  const draw = (): void =>
    show(host,
      missing && h("p", { class: "warning" }, `The batch has no set-up "${missing}" any more.`),
      h("p", { class: "no-print" }, "Set-ups of ", h("b", {}, data.batch_name), ". True the saw first: ",
        h("a", { href: hashOf({ view: "saw", query: { look: "truing" } }) }, "Truing the saw"), "."),
      data.setups.length > 0 ? cardsOf(data) : emptyBox("No set-ups: the designs of this batch need no blocks sawn."),
      cautionsBox(data.cautions));
  draw();
  return { redraw: draw, undo: () => show(host) };
}

let open: Open | null = null;

async function load(host: HTMLElement, place: Place, signal: AbortSignal): Promise<void> {
  const { batch } = current();
  const again = (): void => void start(host, place, signal);
  if (batch === "")
    return show(host, emptyBox("There is no batch in the folder yet. A batch file says which designs are made, how often and of which wood; from it come the set-ups, with their stops, gauge blocks and tests. examples/wrenfield has one to start from."));
  show(host, waitBox("Planning the set-ups."));
  if (place.query["look"] === "truing") {
    const truing = await askTruing(batch, signal);
    if (signal.aborted) return;
    if (!truing.ok) return show(host, problemBox(truing.problem, again));
    open = openTruing(host, batch, truing.value);
    return;
  }
  const reply = await askSetUps(batch, signal);
  if (signal.aborted) return;
  if (!reply.ok) return show(host, problemBox(reply.problem, again));
  const data = { ...reply.value, batch };
  const setup = data.setups.find((s) => s.id === place.part || String(s.number) === place.part);
  if (!setup) open = openCards(host, data, place.part);
  else open = openSetUp(host, data, setup, Number(place.query["step"] ?? 1) - 1);
}

async function start(host: HTMLElement, place: Place, signal: AbortSignal): Promise<void> {
  try {
    await load(host, place, signal);
  } catch (error) {
    if (!signal.aborted) throw error;
  }
}

export const sawView: View = {
  id: "saw",
  title: "Saw",
  mount(host, place) {
    const stop = new AbortController();
    const root = h("div", { class: "saw-view" });
    show(host, root);
    void start(root, place, stop.signal);
    return () => {
      stop.abort();
      open?.undo();
      open = null;
      show(host);
    };
  },
  redraw() {
    open?.redraw();
  },
};
