// apart.ts - the closed puzzle and its way apart: one slider from closed to all pieces lying free.
import { h, show } from "../dom";
import { here, note, type Place } from "../router";
import { announce, emptyBox } from "../view/notice";
import { tryStage } from "../view/stage";
import { link } from "../api";
import { createCompass } from "./compass";
import { castList, putOn } from "./cast";
import { cutaway } from "./cutaway";
import { aside, ballAround, ballBetween, momentOf, partsOf, shiftAt, type Ball } from "./frames";
import type { PuzzleReply, Vec3 } from "./model";
import { searchLink, showLying } from "./lying";
import type { Part, Shown } from "./part";
import { createPlayer, lessMotion } from "./player";
import { counted, handLines } from "./words";

const FINE = 100; // positions of the slider within a step

// What the eye rests on at the beginning and the end of each step: the pieces that the step is about.
function views(puzzle: PuzzleReply): [Ball, Ball][] {
  const { steps, pieces } = puzzle;
  return steps.map((step, s) => {
    const about = new Set(s === 0 ? pieces.map((p) => p.name) : partsOf(step));
    const around = (shifts: Vec3[], names: ReadonlySet<string>): Ball =>
      ballAround(pieces.flatMap((p, i) => (names.has(p.name) ? [{ xyz: p.mesh.xyz, shift: shifts[i]! }] : [])));
    const last = s === steps.length - 1 ? new Set(pieces.map((p) => p.name)) : about;
    return [around(step.before, about), around(step.after, last)];
  });
}

function stepWords(puzzle: PuzzleReply, time: number): HTMLElement[] {
  const { step, share } = momentOf(time, puzzle.steps.length);
  const now = puzzle.steps[step];
  if (!now) return [h("p", {}, "There is no way apart to show.")];
  const head = time >= puzzle.steps.length ? "All pieces lie free" : share === 0 && step === 0 ? "Closed" : `Step ${step + 1} of ${puzzle.steps.length}`;
  const next = time <= 0 ? "First: " : "";
  return [
    h("h2", {}, head),
    h("p", { class: "says" }, `${next}${now.says}`),
    h("ul", {}, handLines(now).map((line) => h("li", {}, line))),
  ];
}

function showApart(host: HTMLElement, puzzle: PuzzleReply, place: Place): Shown {
  if (!puzzle.closed) return showLying(host, puzzle);
  const { steps } = puzzle;
  const count = steps.length;
  const box = h("div", { class: "stage" });
  const words = h("div", { class: "step-words" });
  const stage = tryStage(box, `${puzzle.design}, ${counted(puzzle.pieces.length, "piece")}`,
    "The pieces and the words of each step are listed here all the same.");
  const cast = putOn(stage, box, puzzle, (piece) => roll.mark(piece));
  const roll = castList(puzzle, cast);
  const balls = views(puzzle);
  let time = 0;
  let told = "";
  const compass = stage ? createCompass(stage, box) : null;

  const slider = h("input", { type: "range", min: 0, max: count * FINE, step: 1, class: "way", "aria-label": "the way apart" });
  const play = h("button", { type: "button", class: "main", onclick: () => toggle() }, "Play");
  const back = h("button", { type: "button", onclick: () => go(Math.ceil(time - 1e-6) - 1) }, "Step back");
  const on = h("button", { type: "button", onclick: () => go(Math.floor(time + 1e-6) + 1) }, "Step on");

  const player = createPlayer(
    (t) => draw(t),
    () => {
      play.textContent = "Play";
      settle();
    },
  );
  const settle = (): void => {
    note({ ...here(), query: { ...here().query, step: String(Number(time.toFixed(2))) } });
  };
  const draw = (t: number): void => {
    time = Math.min(Math.max(t, 0), count);
    const { step, share } = momentOf(time, count);
    if (count > 0) {
      cast.move((i) => shiftAt(steps, time, i));
      cast.fade(aside(steps, time, puzzle.pieces.map((p) => p.name)));
      const ball = ballBetween(balls[step]![0], balls[step]![1], share);
      stage?.aim(ball.middle, ball.radius);
    }
    slider.value = String(Math.round(time * FINE));
    back.disabled = time <= 0;
    on.disabled = time >= count;
    compass?.down(steps[momentOf(time, count).step]?.down ?? null);
    tell();
  };
  const tell = (): void => {
    const parts = stepWords(puzzle, time);
    const text = parts.map((p) => p.textContent).join(" ");
    if (text === told) return;
    told = text;
    slider.setAttribute("aria-valuetext", `${parts[0]?.textContent ?? ""}: ${parts[1]?.textContent ?? ""}`);
    show(words, ...parts);
  };
  const go = (to: number): void => {
    if (to < 0 || to > count) return;
    play.textContent = "Stop";
    player.play(time, to);
    const step = steps[Math.min(Math.floor(Math.min(time, to) + 1e-6), count - 1)];
    announce(step ? `${to < time ? "Back" : ""} ${step.says}` : "");
    if (lessMotion()) play.textContent = "Play";
  };
  const toggle = (): void => {
    if (player.playing()) return player.stop();
    if (lessMotion()) return go(Math.floor(time + 1e-6) + 1 > count ? 0 : Math.floor(time + 1e-6) + 1);
    play.textContent = "Stop";
    player.play(time >= count ? 0 : time, count);
  };
  slider.addEventListener("input", () => {
    player.stop();
    draw(Number(slider.value) / FINE);
  });
  slider.addEventListener("change", settle);

  const all = h("input", { type: "checkbox", onchange: () => cast.names(all.checked) });
  const tools = h("div", { class: "row" }, back, play, on);
  const left = h("div", { class: "bench" }, box);
  if (stage) left.append(h("div", { class: "row under" }, cutaway(stage), h("label", { class: "tick" }, all, "Names")));
  if (count > 0) left.prepend(h("div", { class: "way-row" }, tools, slider));
  const listed = h("section", { class: "sheet" }, h("h2", {}, counted(puzzle.pieces.length, "piece")), roll.list);
  const known = h("section", { class: "sheet" }, h("h2", {}, "What is known"), puzzle.says.map((s) => h("p", {}, s)),
    puzzle.stopped_early && h("p", {}, searchLink(puzzle)), download(puzzle));
  const side = h(
    "div",
    { class: "beside" },
    count > 0 ? h("section", { class: "sheet step-sheet" }, words) : emptyBox("No way apart was found, so there is no step to show."),
    ...(puzzle.stopped_early ? [known, listed] : [listed, known]),
  );
  show(host, h("div", { class: "columns apart" }, left, side));
  stage?.frame([5, 3, 2]);
  draw(Number(place.query["step"] ?? 0) || 0);
  return {
    undo: () => {
      player.stop();
      compass?.undo();
      cast.undo();
      stage?.dispose();
    },
    redraw: () => stage?.recolor(),
    moved: (to) => {
      player.stop();
      draw(Number(to.query["step"] ?? 0) || 0);
    },
  };
}

function download(puzzle: PuzzleReply): HTMLElement | false {
  if (puzzle.steps.length === 0) return false;
  const name = `${puzzle.file.replace(/\.toml$/, "")}-steps.json`;
  return h("p", {}, h("a", { href: link("/api/steps", { design: puzzle.file }), download: name }, "Keep the steps as a file"),
    " (key frames, JSON)");
}

export const apartPart: Part = { id: "", title: "Take it apart", show: showApart };
