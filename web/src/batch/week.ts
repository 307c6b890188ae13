// week.ts - the evenings: free hours, what is done in them, what dries meanwhile, the day it is due.
import { h, show } from "../dom";
import type { Day, DayDrying, Stretch, Week } from "./model";
import { dateText, hoursText, plural } from "./words";

const HOUR = 3600;

export interface Span {
  from: number;
  to: number;
}

// Whole hours about a day's free ones.
export function spanOf(day: Pick<Day, "windows">): Span {
  const from = Math.min(...day.windows.map((w) => w.from_s));
  const to = Math.max(...day.windows.map((w) => w.to_s));
  return { from: Math.floor(from / HOUR) * HOUR, to: Math.ceil(to / HOUR) * HOUR };
}

// Where a time of the day lies in the picture, in percent; what is beyond is cut off.
export function percentOf(seconds: number, span: Span): number {
  const share = (seconds - span.from) / (span.to - span.from);
  return 100 * Math.min(1, Math.max(0, share));
}

export function hoursBetween(span: Span): number[] {
  const hours: number[] = [];
  for (let t = Math.ceil(span.from / HOUR) * HOUR; t <= span.to; t += HOUR) hours.push(t);
  return hours;
}

function place(from: number, to: number, span: Span): string {
  const left = percentOf(from, span);
  return `left:${left.toFixed(3)}%;width:${(percentOf(to, span) - left).toFixed(3)}%`;
}

function bar(s: Stretch, k: number, span: Span): HTMLElement {
  return h("span", { class: `work kind-${s.kind}`, style: place(s.from_s, s.to_s, span), title: `${s.from} ${s.task}` },
    h("span", {}, k + 1));
}

function dryingBars(drying: readonly DayDrying[], span: Span): HTMLElement[] {
  return drying
    .filter((d) => d.to_s > span.from && d.from_s < span.to)
    .map((d) => h("span", { class: "drying" }, h("span", { style: place(d.from_s, d.to_s, span), title: d.task })));
}

function track(day: Day, span: Span): HTMLElement {
  const hours = hoursBetween(span);
  const every = hours.length > 9 ? 2 : 1;
  return h(
    "div",
    { class: "track", "aria-hidden": "true" },
    h("div", { class: "hours" }, hours.map((t, i) =>
      h("span", { style: `left:${percentOf(t, span).toFixed(3)}%` }, i % every === 0 ? t / HOUR : ""))),
    h(
      "div",
      { class: "lane" },
      day.windows.map((w) => h("span", { class: "window", style: place(w.from_s, w.to_s, span) })),
      day.work.map((s, k) => bar(s, k, span)),
    ),
    dryingBars(day.drying, span),
  );
}

function stretchItem(s: Stretch): HTMLElement {
  return h(
    "li",
    {},
    h("span", { class: `chip kind-${s.kind}` }),
    h("span", { class: "when" }, `${s.from} – ${s.to}`),
    ` ${s.task} `,
    h("small", {}, s.kind, s.dries_until && `, dries until ${dateText(s.dries_until)}`),
  );
}

// What dries that day and was not begun on it.
function standing(day: Day): string {
  const begun = new Set(day.work.map((s) => s.task));
  const names = day.drying.filter((d) => !begun.has(d.task)).map((d) => `${d.task} (until ${dateText(d.until)})`);
  return names.length > 0 ? `Dries from before: ${names.join("; ")}.` : "";
}

function dayRow(day: Day, week: Week): HTMLElement {
  const span = spanOf(day);
  const due = day.date === week.due;
  return h(
    "li",
    { class: due ? "day due" : "day" },
    h(
      "h3",
      {},
      `${day.weekday} ${dateText(day.date)}`,
      h("small", {}, ` free ${day.windows.map((w) => `${w.from} – ${w.to}`).join(", ")}`),
      due && h("strong", {}, " due today"),
    ),
    track(day, span),
    day.work.length > 0 ? h("ol", { class: "stretches" }, day.work.map(stretchItem)) : h("p", { class: "small" }, "Nothing to do: glue or finish has to stand."),
    standing(day) && h("p", { class: "small" }, standing(day)),
  );
}

export function finishText(w: Week): string {
  const done = `Done ${dateText(w.finish)}`;
  const proof = w.proven ? "; no plan is faster" : `; nobody can be done before ${dateText(w.finish_bound)}`;
  const due = w.days_late > 0 ? `. That is ${plural(w.days_late, "day")} after the due date, ${dateText(w.due)}` : `. Due ${dateText(w.due)}`;
  return `${done}${proof}${due}.`;
}

function kindsOf(week: Week): string[] {
  return [...new Set(week.days.flatMap((d) => d.work.map((s) => s.kind)))];
}

export function drawWeek(host: HTMLElement, week: Week): void {
  show(
    host,
    h("p", { class: week.days_late > 0 ? "warning" : "" }, finishText(week)),
    h(
      "p",
      {},
      `Hands on ${hoursText(week.hands_on_s / HOUR)}. Glue and finish stand for ${hoursText(week.drying_s / HOUR)}, ` +
        `of it ${hoursText(week.drying_inside_hours_s / HOUR)} in free hours. Hands wait ${hoursText(week.idle_s / HOUR)}.`,
    ),
    h(
      "p",
      { class: "key" },
      kindsOf(week).map((k) => h("span", { class: "key-kind" }, h("span", { class: `chip kind-${k}` }), k)),
      h("span", { class: "key-kind" }, h("span", { class: "chip window" }), "free hours"),
      h("span", { class: "key-kind" }, h("span", { class: "chip dries" }), "clamped, curing or drying"),
    ),
    h("ol", { class: "days" }, week.days.map((d) => dayRow(d, week))),
    h("p", { class: "small" }, "Opening up and clearing up are taken off the free hours. Days without free hours are left out; glue and finish go on."),
  );
}
