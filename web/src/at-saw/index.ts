// at-saw - one set-up on a phone that leans against the fence: read from two meters, worked with a gloved thumb.
import "./at-saw.css";
import { h, show } from "../dom";
import { hashOf, type Place } from "../router";
import { current } from "../state";
import { askSetUps } from "../saw/ask";
import type { SetUp, SetUps } from "../saw/model";
import { emptyBox, problemBox, waitBox } from "../view/notice";
import { askForCode } from "../view/pairing";
import type { View } from "../view/view";
import { sawSteps, type FaceId } from "./bench";
import { openStation, type Station, type StationPlace } from "./station";

let station: Station | null = null;
const seen = new Map<string, SetUps>(); // by batch: shown when the program does not answer for a while

function stationPlace(setup: SetUp, query: Record<string, string>): StationPlace {
  const within = (text: string | undefined, most: number): number => Math.min(Math.max(Number(text) || 1, 1), most);
  const faces: FaceId[] = ["stop", "cut", "measure"];
  return {
    stop: within(query["stop"], setup.stops.length),
    step: within(query["cut"], sawSteps(setup).length) - 1,
    face: faces.find((f) => f === query["face"]) ?? "stop",
    widths: query["widths"] === "yes",
  };
}

function chooser(host: HTMLElement, data: SetUps, missing: string): void {
  const link = (s: SetUp): HTMLElement =>
    h("li", {}, h("a", { href: hashOf({ view: "at-saw", part: s.id }) },
      h("b", {}, String(s.number)), h("span", {}, s.name), h("small", {}, `${s.blocks} blocks`)));
  show(host, h("div", { class: "at-saw choose" }, h("h1", {}, "Which set-up?"),
    missing && h("p", { class: "warning" }, `The batch has no set-up "${missing}" any more.`),
    data.setups.length > 0
      ? h("ul", {}, data.setups.map(link))
      : emptyBox("The batch has no set-ups: its designs need no blocks sawn."),
    h("a", { class: "leave", href: hashOf({ view: "saw" }) }, "Back to the desk's view")));
}

function open(host: HTMLElement, data: SetUps, place: Place): void {
  const setup = data.setups.find((s) => s.id === place.part || String(s.number) === place.part);
  if (!setup) return chooser(host, data, place.part);
  station = openStation(host, data, setup, stationPlace(setup, place.query));
}

export const atSawView: View = {
  id: "at-saw",
  title: "At the saw",
  bare: true,
  mount(host, place) {
    const { batch } = current();
    const stop = new AbortController();
    const leave = (): HTMLElement => h("a", { class: "leave", href: hashOf({ view: "saw" }) }, "Back to the desk's view");
    const load = async (): Promise<void> => {
      show(host, waitBox("Planning the set-ups."));
      const reply = await askSetUps(batch, stop.signal);
      if (stop.signal.aborted) return;
      if (reply.ok) seen.set(batch, reply.value);
      const data = reply.ok ? reply.value : seen.get(batch);
      if (data) open(host, data, place);
      else if (!reply.ok && reply.status === 401) askForCode(host, () => void load());
      else if (!reply.ok) show(host, problemBox(reply.problem, () => void load()), leave());
    };
    if (batch === "") show(host, h("h1", {}, "At the saw"), emptyBox("There is no batch in the folder yet: it says what is to be made, and from it come the set-ups.", leave()));
    else load().catch((error: unknown) => {
      if (!stop.signal.aborted) throw error;
    });
    return () => {
      stop.abort();
      station?.undo();
      station = null;
      show(host);
    };
  },
  redraw() {
    station?.redraw();
  },
};
