// job-bar.ts - long work: how far it is, how long it will take, and a button that ends it and keeps what was found.
import { follow, remove, type JobDone } from "../api";
import { h, show } from "../dom";

export function timeText(seconds: number): string {
  if (seconds < 90) return `${Math.max(1, Math.round(seconds))} s`;
  if (seconds < 5400) return `${Math.round(seconds / 60)} min`;
  return seconds < 360_000 ? `${Math.round(seconds / 3600)} h` : "days";
}

// Shows the job in `host` while it runs.   returns  its undo, which leaves the job running
export function jobBar<T, I>(
  host: HTMLElement,
  job: string,
  take: { item?: (item: I) => void; done: (d: JobDone<T>) => void },
): () => void {
  const bar = h("progress", { max: 1, value: 0, "aria-label": "how much is done" });
  const words = h("span", { class: "words" }, "just begun");
  const end = h(
    "button",
    {
      type: "button",
      onclick: () => {
        end.disabled = true;
        void remove(`/api/jobs/${encodeURIComponent(job)}`);
      },
    },
    "Stop here",
  );
  show(host, h("div", { class: "job" }, bar, words, end));
  return follow<T, I>(job, {
    progress: (p) => {
      bar.value = p.share;
      const left = p.seconds_left === null ? "" : `, about ${timeText(p.seconds_left)} left`;
      words.textContent = `${p.words}; ${Math.round(100 * p.share)} % done${left}`;
    },
    item: (i) => take.item?.(i),
    done: (d) => {
      show(host);
      take.done(d);
    },
  });
}
