// search.ts - all assemblies of the design: long work that can be ended, keeps what it found, and is found again.
import { post } from "../api";
import { field, h, show } from "../dom";
import { jobBar } from "../view/job-bar";
import { announce, problemBox } from "../view/notice";
import type { CheckResult } from "./model";
import type { Shown } from "./part";
import { counted, verdictLines } from "./words";

const LISTED = 2000; // so many are told one by one; how many there are stands beside the bar
const KEPT = "stickwright.search"; // the job that runs, so that a reload does not lose sight of it

interface Running {
  job: string;
  design: string;
}

function running(design: string): string | null {
  try {
    const kept = JSON.parse(sessionStorage.getItem(KEPT) ?? "null") as Running | null;
    return kept?.design === design ? kept.job : null;
  } catch {
    return null;
  }
}

function keep(run: Running | null): void {
  try {
    if (run) sessionStorage.setItem(KEPT, JSON.stringify(run));
    else sessionStorage.removeItem(KEPT);
  } catch {
    // A browser that keeps nothing: the job runs on unseen.
  }
}

//   says  what is known already, if it is
export function showSearch(host: HTMLElement, design: string, says: readonly string[]): Shown {
  const mirrors = h("input", { type: "checkbox" });
  const turning = h("input", { type: "checkbox" });
  const stopAfter = h("input", { type: "number", min: 0, max: 1000000, value: "0", inputmode: "numeric" });
  const begin = h("button", { type: "submit", class: "main" }, "Look for all assemblies");
  const bar = h("div", {});
  const found = h("p", { class: "figure", role: "status" });
  const result = h("div", {});
  let undoJob = (): void => undefined;
  let over = false;

  const finish = (lines: readonly string[]): void => {
    begin.disabled = false;
    show(result, lines.length > 0 && h("section", { class: "sheet" }, h("h2", {}, "Found"), lines.map((line) => h("p", {}, line))));
    announce(lines.join(" "));
  };
  //   again  it was begun before this page was; the program may have been started anew since
  const watch = (job: string, again = false): void => {
    let count = 0;
    begin.disabled = true;
    show(result);
    found.textContent = "No assembly found yet";
    undoJob = jobBar<CheckResult, { number: number }>(bar, job, {
      item: (i) => {
        count = Math.max(count, i.number);
        found.textContent = count < LISTED ? `${counted(count, "assembly", "assemblies")} found` : `${LISTED} assemblies found, and more`;
      },
      done: (d) => {
        keep(null);
        if (over) return;
        found.textContent = "";
        begin.disabled = false;
        if (again && d.state === "failed") return;
        if (d.result) finish([...verdictLines(d.result), ...(d.result.turning ? [d.result.turning.says] : [])]);
        else finish(d.state === "cancelled" ? ["Ended before anything was found."] : []);
        if (d.problem) show(result, problemBox(d.problem));
      },
    });
  };
  const ask = async (): Promise<void> => {
    begin.disabled = true;
    const reply = await post<{ job: string }>("/api/check", {
      design, mirrors_once: mirrors.checked, turning: turning.checked,
      stop_after: Number(stopAfter.value) || 0, threads: 0,
    });
    if (over) return;
    begin.disabled = false;
    if (!reply.ok) return show(result, problemBox(reply.problem, () => void ask()));
    keep({ job: reply.value.job, design });
    watch(reply.value.job);
  };
  const form = h(
    "form",
    {
      class: "sheet",
      onsubmit: (e: Event) => {
        e.preventDefault();
        void ask();
      },
    },
    h("label", { class: "tick" }, mirrors, "Count mirror images once"),
    h("label", { class: "tick" }, turning, "Also: can it begin to move when pieces are turned?"),
    field("End after so many assemblies", stopAfter, "0: look for all of them"),
    begin,
  );
  const known = says.length > 0 && h("section", { class: "sheet" }, h("h2", {}, "What is known"), says.map((s) => h("p", {}, s)));
  show(host, h("div", { class: "columns" },
    h("div", {}, form, h("section", { "aria-label": "the search" }, bar, found, result)), known));
  const job = running(design);
  if (job) watch(job, true);
  return {
    undo: () => {
      over = true;
      undoJob();
      show(host);
    },
    redraw: () => undefined,
  };
}
