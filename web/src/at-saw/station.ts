// station.ts - one set-up, as large as the screen: its faces, the band of advice, and the readings on their way.
import { h, show } from "../dom";
import { hashOf, note } from "../router";
import { current } from "../state";
import type { SetUp, SetUps } from "../saw/model";
import { askForCode } from "../view/pairing";
import type { Recorded } from "./answer";
import { createBand } from "./band";
import type { Bench, FaceId } from "./bench";
import { enterReading, learnNumbers, takeBack, undoLast } from "./enter";
import { entryText, type Entry } from "./entry";
import { button, cutFace, stopChoice, stopFace } from "./faces";
import { blockInput, measureFace } from "./measure";
import { messageLine } from "./message";
import { remembered } from "./memory";
import { numberPad } from "./pad";
import { askPlaces, lightOf, newestLeaf, type ReadingPlace } from "../saw/places";
import { isUndone, waiting } from "./queue";
import { queueList, waitingText } from "./queue-list";
import { focusKept } from "./focus-kept";
import { readingField } from "./reading-field";
import { keepAwake } from "./wake-lock";
import { senderOfPage } from "./sender-of-page";
import { openWhatToDo } from "./what-to-do";

const FACES: { id: FaceId; label: string }[] = [
  { id: "stop", label: "Set" },
  { id: "cut", label: "Cut" },
  { id: "measure", label: "Measure" },
];

export interface Station {
  redraw(): void;
  undo(): void;
}

export interface StationPlace {
  stop: number;
  step: number;
  face: FaceId;
  widths: boolean;
}

// Whether what the ledger answered is about what is shown.
function isShown(bench: Bench, e: Entry): boolean {
  return e.batch === bench.batch && e.setup === bench.setup.id && e.stop === (bench.widths ? 0 : bench.stop);
}

export function openStation(host: HTMLElement, data: SetUps, setup: SetUp, first: StationPlace): Station {
  const batch = data.batch || current().batch;
  const band = createBand();
  const faceBox = h("div", { class: "face-box" });
  const title = h("div", { class: "title" });
  const rail = h("div", { class: "rail", role: "group", "aria-label": "faces" });
  const pairing = h("div", { class: "pair-again" });
  const message = messageLine();
  const asked = { now: new AbortController() };

  const bench: Bench = {
    batch, data, setup, leaves: [], newest_leaf: 0, ...first,
    turn: (to) => {
      const before = `${bench.stop} ${bench.widths}`;
      Object.assign(bench, to);
      note({ view: "at-saw", part: setup.id, query: {
        stop: String(bench.stop), face: bench.face, ...(bench.face === "cut" ? { cut: String(bench.step + 1) } : {}),
        ...(bench.widths ? { widths: "yes" } : {}) } });
      draw();
      if (before !== `${bench.stop} ${bench.widths}`) void lookUp();
    },
  };

  const showPlaces = (places: readonly ReadingPlace[]): void => {
    const { light, says } = lightOf(places);
    band.set(light, says);
    bench.leaves = places.flatMap((p) => p.leaves).map((l) => l.thickness_mm);
    bench.newest_leaf = newestLeaf(places);
    if (bench.widths) learnNumbers(bench, places.flatMap((p) => p.readings));
  };

  const lookUp = async (): Promise<void> => {
    asked.now.abort();
    asked.now = new AbortController();
    band.set("unknown", "What does the ledger say of it?", "Asking");
    const stop = bench.widths ? 0 : bench.stop;
    const reply = await askPlaces(batch, setup.id, stop, asked.now.signal).catch(() => null);
    if (!reply) return; // another place is asked for by now
    if (reply.ok) {
      showPlaces(reply.value);
      draw();
    } else band.set("unknown", reply.problem.say, "No word");
  };

  const answered = (answer: Recorded, e: Entry): void => {
    message.stored(e);
    if (!isShown(bench, e)) return;
    if (answer.light && answer.says) band.set(answer.light, answer.says);
    else void lookUp();
  };

  const pairIfAsked = (): void => {
    const needed = sender.state().trouble === "not paired";
    if (needed === pairing.hasChildNodes()) return;
    if (!needed) show(pairing);
    else {
      askForCode(pairing, () => {
        sender.wake();
        pairIfAsked();
        reading.input.focus({ preventScroll: true });
        void lookUp();
      });
      pairing.prepend(h("p", { class: "warning" },
        `The program does not know this phone any more. ${waitingText(waiting())}: type the code, and they go on.`));
    }
  };

  const changed = (): void => {
    list.update();
    message.update();
    pairIfAsked();
  };
  const page = senderOfPage({ changed, answered });
  const sender = page.sender;

  const placeOfBlock = (): string => `${bench.widths} ${remembered().wood}`;
  const freshBlock = (): HTMLInputElement => {
    const input = blockInput(bench);
    input.defaultValue = input.value;
    input.dataset["place"] = placeOfBlock();
    return input;
  };
  let block = freshBlock();
  const enter = (): void => {
    const number = /^\d+$/.test(block.value.trim()) ? Number(block.value) : null;
    if (bench.widths && block.value.trim() !== "" && number === null)
      return message.say(`"${block.value}" is no number of a block.`, "wrong");
    const entered = enterReading(bench, reading.input.value, current().units, bench.widths ? number : null);
    if ("say" in entered) {
      message.say(entered.say, "wrong");
      draw();
      return reading.input.select();
    }
    reading.clear();
    if ("kept" in entered) block = freshBlock();
    if ("kept" in entered) message.say(`Kept: ${entryText(entered.kept)}`, "kept");
    else message.say("And width 2; Keep alone skips it", "kept");
    sender.kick();
    draw();
    changed();
  };
  const undoOne = (): void => {
    const e = undoLast(bench);
    message.say(e ? `Undone: ${entryText(e)}` : "This phone has no reading of this set-up to undo.", e ? "kept" : "wrong");
    sender.kick();
    draw();
    changed();
  };
  const reading = readingField(enter, () => {
    if (bench.face !== "measure") bench.turn({ face: "measure" });
  });
  const list = queueList(() => sender, (e) => {
    reading.input.value = takeBack(e);
    bench.turn({ face: "measure", stop: e.stop || bench.stop, widths: e.stop === 0 });
    reading.input.focus();
  }, changed);
  const pad = numberPad({ type: reading.type, erase: reading.erase, enter, undo: undoOne });
  const waitingHere = (): number => waiting().filter((e) => isShown(bench, e) && !isUndone(e.key)).length;
  const whatToDo = (): void => openWhatToDo(bench, waitingHere(), () => void lookUp());

  const draw = (): void => {
    const refocus = focusKept(host);
    if (block.dataset["place"] !== placeOfBlock() || block.value === block.defaultValue) block = freshBlock();
    const stops = stopChoice(bench);
    show(title, h("h1", {}, h("span", {}, `${setup.number}`), ` ${setup.name}`), stops);
    const parts = { reading, pad, line: list.line, message: message.element, whatToDo };
    const aside = h("div", { class: "aside" }, reading.element, list.line);
    reading.label("Reading");
    const face = { stop: () => stopFace(bench, aside), cut: () => cutFace(bench, aside), measure: () => measureFace(bench, parts, block) };
    show(faceBox, face[bench.face]());
    show(rail, h("a", { class: "leave", href: hashOf({ view: "saw", part: setup.id }) }, "Leave"),
      FACES.map((f) => button(f.label, () => bench.turn({ face: f.id }), { "aria-pressed": String(f.id === bench.face) })));
    refocus();
    list.update();
  };

  show(host, h("div", { class: "at-saw" }, title, band.element, pairing, faceBox, rail));
  draw();
  void lookUp();
  const undos = [keepAwake(), reading.listen(), page.leave, () => asked.now.abort(), () => show(host)];
  return { redraw: draw, undo: () => undos.forEach((one) => one()) };
}
