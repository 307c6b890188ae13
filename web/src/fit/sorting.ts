// sorting.ts - measured blocks, sorted into puzzles so that the tightest one is as good as can be.
import { post, type JobDone } from "../api";
import { h, show, table } from "../dom";
import { jobBar } from "../view/job-bar";
import { emptyBox, problemBox } from "../view/notice";
import type { SortedBlock, Sorting } from "./model";
import { mm } from "./words";

function offText(b: SortedBlock): string {
  const part = (name: string, off: number | null): string | null => (off === null ? null : `${name} ${off > 0 ? "+" : ""}${mm(off)}`);
  return [part("across flats", b.off_mm), part("width 1", b.width_1_off_mm), part("width 2", b.width_2_off_mm)].filter(Boolean).join(", ");
}

function whichText(b: SortedBlock): string {
  if (b.number !== null) return `number ${b.number}`;
  return b.reading !== null ? `reading ${b.reading}` : "any that was not measured";
}

function againstText(p: Sorting["puzzles"][number]["places"][number]): string {
  const side = (n: number, blocks: number[]): string => (blocks.length ? `width ${n} against block ${blocks.join(", ")}` : "");
  return [side(1, p.width_1_against), side(2, p.width_2_against)].filter(Boolean).join("; ");
}

function drawSorting(host: HTMLElement, s: Sorting): void {
  const left = s.without_wood + s.without_number;
  show(
    host,
    h("p", {}, `Sorted so, the tightest of ${s.puzzles.length} puzzles has ${mm(s.worst_play_mm)} of play, from its measured blocks alone; ` +
      `taken as they come it would be ${mm(s.as_they_come_mm)}. ` +
      (s.proven ? "No other sorting is better: proven." : `No sorting has more than ${mm(s.bound_mm)}.`)),
    left > 0 && h("p", {}, `Left out are ${s.without_wood} readings of no known wood and ${s.without_number} of no known block.`),
    s.puzzles.map((p) => h("details", {}, h("summary", {}, `${p.design} ${p.copy}: ${mm(p.play_mm)}`),
      table(`Blocks of ${p.design} ${p.copy}`, [
        { head: "piece", cell: (x) => x.piece },
        { head: "block", cell: (x) => x.block, number: true },
        { head: "of set-up", cell: (x) => x.set_up },
        { head: "wood", cell: (x) => x.wood },
        { head: "take", cell: (x) => whichText(x) },
        { head: "off", cell: (x) => offText(x) },
        { head: "how it lies", cell: (x) => againstText(x) },
      ], p.places))),
    s.left.length > 0 && h("details", {}, h("summary", {}, `${s.left.length} blocks stay on the shelf`),
      table("Left on the shelf", [
        { head: "of set-up", cell: (x) => x.set_up },
        { head: "wood", cell: (x) => x.wood },
        { head: "which", cell: (x) => whichText(x) },
        { head: "off", cell: (x) => offText(x) },
      ], s.left)),
  );
}

export interface SortBox {
  element: HTMLElement;
  redraw: () => void;
  undo: () => void;
}

export function sortBox(batch: string): SortBox {
  let sorted: Sorting | null = null;
  let undo = (): void => undefined;
  let gone = false;
  const job = h("div", {});
  const answer = h("div", {});
  const button = h("button", { type: "button", onclick: () => void sort() }, "Sort the measured blocks");
  const done = (d: JobDone<Sorting>): void => {
    button.disabled = false;
    if (d.result) drawSorting(answer, (sorted = d.result));
    else if (d.problem?.code === "nothing_to_sort") show(answer, emptyBox(d.problem.say));
    else if (d.problem) show(answer, problemBox(d.problem));
  };
  const sort = async (): Promise<void> => {
    button.disabled = true;
    const reply = await post<{ job: string }>("/api/sort", { batch });
    if (gone) return;
    if (reply.ok) return void (undo = jobBar<Sorting, unknown>(job, reply.value.job, { done }));
    button.disabled = false;
    show(answer, problemBox(reply.problem));
  };
  const element = h(
    "div",
    {},
    h("p", {}, "Blocks of a kind differ by some hundredths of a millimeter. Measured, numbered and sorted, the tightest puzzle of the batch gets better."),
    button, job, answer,
  );
  return { element, redraw: () => sorted && drawSorting(answer, sorted), undo: () => ((gone = true), undo()) };
}
