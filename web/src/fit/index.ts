// The fit: will the puzzles close, how snug, and what a stop set a little long or short would do.
import { get, post, type JobDone } from "../api";
import { h, show } from "../dom";
import { hashOf, note, type Place } from "../router";
import { current } from "../state";
import { jobBar } from "../view/job-bar";
import { announce, emptyBox, problemBox, waitBox } from "../view/notice";
import type { View } from "../view/view";
import "../batch/batch.css";
import "./fit.css";
import type { Asked, Fit, FitItem, PuzzleFit } from "./model";
import { puzzleFit, type Drawn } from "./puzzle-fit";
import { sortBox } from "./sorting";
import type { Standing } from "./tried-box";
import { mm, percentText } from "./words";

class FitOfBatch {
  private readonly job = h("div", {});
  private readonly told = h("div", {});
  private readonly row = h("nav", { class: "parts no-print", "aria-label": "puzzles" });
  private readonly body = h("div", {});
  private readonly sort;
  private readonly asks = new AbortController();
  private puzzles: PuzzleFit[] = [];
  private standing: Standing[] = []; // where the sliders stand, by puzzle
  private asked: Asked | null = null;
  private of = 0;
  private part: number;
  private drawn: Drawn | null = null;
  private unlisten = (): void => undefined;
  private gone = false;

  constructor(host: HTMLElement, private readonly batch: string, place: Place) {
    this.part = FitOfBatch.partOf(place);
    this.sort = sortBox(batch);
    show(host, this.job, this.told, this.row, this.body,
      h("section", { class: "part", "aria-label": "Sorting" }, h("h2", {}, "Sorting measured blocks"), this.sort.element));
    show(this.told, waitBox("Looking for a fit that was worked out already."));
    void this.begin();
  }

  static partOf(place: Place): number {
    const n = Number(place.part);
    return Number.isInteger(n) && n >= 1 ? n - 1 : 0;
  }

  private async begin(): Promise<void> {
    try {
      const reply = await get<Fit>("/api/fit", { batch: this.batch }, this.asks.signal);
      if (this.gone) return;
      if (!reply.ok) return show(this.told, problemBox(reply.problem, () => void this.begin()));
      if (reply.value.ready) this.take(reply.value);
      else await this.work();
    } catch {
      // The view is gone.
    }
  }

  private async work(): Promise<void> {
    show(this.told);
    const reply = await post<{ job: string }>("/api/fit", { batch: this.batch });
    if (this.gone) return;
    if (!reply.ok) return show(this.told, problemBox(reply.problem, () => void this.work()));
    this.unlisten = jobBar<Fit, FitItem>(this.job, reply.value.job, {
      item: (i) => this.found(i),
      done: (d) => this.done(d),
    });
  }

  // A puzzle that was begun to be looked at is not drawn anew.
  private found(item: FitItem): void {
    this.asked = item.asked;
    this.of = item.of;
    this.puzzles[item.index] = item.puzzle;
    announce(`${item.puzzle.puzzle} is worked out.`);
    this.drawRow();
    if (item.index === this.part) this.drawPuzzle();
  }

  private done(d: JobDone<Fit>): void {
    if (d.state === "failed" && d.problem) return show(this.told, problemBox(d.problem, () => void this.work()));
    if (d.result) this.take(d.result);
    if (d.result?.complete) return;
    const go = h("button", { type: "button", onclick: () => void this.work() }, "Work it out to the end");
    const n = this.puzzles.length;
    show(this.told, h("div", { class: "warning" }, h("p", {}, n === 0 ? "Stopped before the first puzzle was done."
      : `Stopped: ${n} of ${this.of} puzzles are worked out, and stand as they are.`), go));
  }

  private take(fit: Fit): void {
    const before = JSON.stringify(this.puzzles);
    this.puzzles = fit.puzzles ?? [];
    this.asked = fit.asked ?? this.asked;
    this.of = fit.of ?? this.puzzles.length;
    this.part = Math.min(this.part, Math.max(0, this.of - 1));
    this.drawTold(fit);
    this.drawRow();
    if (!this.drawn || JSON.stringify(this.puzzles) !== before) this.drawPuzzle();
  }

  private lastFit: Fit | null = null;
  private drawTold(fit: Fit): void {
    this.lastFit = fit;
    const asked = fit.asked;
    const read = fit.stops_read ?? [];
    show(
      this.told,
      asked && h("p", {}, `Asked for: ${mm(asked.play_mm)} of play in the middle puzzle, ${mm(asked.least_mm)} to ${mm(asked.most_mm)} in ` +
        `${percentText(asked.chance)} of them. Hands press ${mm(-asked.closes_from_mm)} shut.`),
      h("p", { class: "small" }, read.length > 0
        ? `Stops known by test blocks: ${read.map((r) => `${r.set_up}, stop ${r.stop} (${mm(r.error_mm)} off, u = ${mm(r.u_mm)})`).join("; ")}.`
        : "No stop is known by a test block yet: all are taken as uncertain as the shop file says."),
    );
  }

  private drawRow(): void {
    const link = (p: PuzzleFit, k: number): HTMLElement =>
      h("li", {}, h("a", { href: this.hash(k), "aria-current": k === this.part ? "true" : null }, p.puzzle));
    show(this.row, this.of > 1 && h("ul", {}, this.puzzles.map(link)));
  }

  private hash(k: number): string {
    return hashOf({ view: "fit", part: String(k + 1), query: { batch: this.batch } });
  }

  private drawPuzzle(): void {
    this.drawn?.undo();
    this.drawn = null;
    const fit = this.puzzles[this.part];
    if (!fit || !this.asked) return show(this.body, this.puzzles.length > 0 && waitBox("This puzzle is not worked out yet."));
    const standing = (this.standing[this.part] ??= { mm: fit.binds ? fit.sizes.map(() => 0) : [], tried: null });
    this.drawn = puzzleFit(this.batch, this.part, fit, this.asked, standing);
    show(this.body, h("h2", { class: "puzzle-name", tabindex: -1 }, fit.puzzle), this.drawn.element);
  }

  moved(place: Place): void {
    this.part = FitOfBatch.partOf(place);
    this.drawRow();
    this.drawPuzzle();
    this.body.querySelector<HTMLElement>("h2")?.focus();
  }

  redraw(): void {
    if (this.lastFit) this.drawTold(this.lastFit);
    this.drawPuzzle();
    this.sort.redraw();
  }

  undo(): void {
    this.gone = true;
    this.asks.abort();
    this.unlisten();
    this.drawn?.undo();
    this.sort.undo();
  }
}

let shown: FitOfBatch | null = null;

export const fitView: View = {
  id: "fit",
  title: "Fit",
  mount(host, place) {
    const { batch } = current();
    if (!batch) {
      show(host, emptyBox("There is no batch in this folder yet. The fit is worked out for a batch: its designs, its shop, and the play that its [fit] table asks for."));
      return () => show(host);
    }
    host.classList.add("fit-page");
    const view = new FitOfBatch(host, batch, place);
    if (!place.part) note({ view: "fit", part: "1", query: { batch } });
    shown = view;
    return () => {
      view.undo();
      shown = null;
      show(host);
      host.classList.remove("fit-page");
    };
  },
  moved: (place) => shown?.moved(place),
  redraw: () => shown?.redraw(),
};
