// readings-table.ts - every reading with what became of it; each can be corrected, withdrawn, put back.
import { h, show } from "../dom";
import type { Units } from "../units";
import { changeForm, type ChangeKind, type Done } from "./change";
import { keyPicture, shapeOf, SHAPE_WORDS } from "./marks";
import type { ReadSize } from "./model";
import { lastValue, type Point } from "./points";
import { changesText, plural, readingText, timeText } from "./words";

export interface Row {
  size: ReadSize;
  number: number; // of the set-up
  point: Point;
}

export interface TableAsked {
  batch: string;
  rows: readonly Row[]; // newest first
  units: Units;
  ofOne: boolean; // all of one size: it need not be named
  done: (d: Done) => void;
  closed: () => void;
}

export interface ReadingsTable {
  element: HTMLElement;
  show(id: number): void; // brings the reading into view and marks it
  busy(): boolean; // something is being typed
}

// At once; on a phone each takes much more of the way.
function fewAtOnce(): number {
  return matchMedia("(max-width: 46rem)").matches ? 20 : 100;
}

const COLUMNS = ["Of", "No.", "Block", "Value", "Wood, stick", "When", "By, with", "Remark", ""] as const;
type ColumnName = (typeof COLUMNS)[number];

function valueCell(row: Row, units: Units): HTMLElement {
  const { reading, standing } = row.point;
  const shape = shapeOf(row.point);
  const now = readingText(lastValue(reading), units);
  return h("div", { class: "value" },
    h("span", { class: "value-now" }, keyPicture(shape), standing === "withdrawn" ? h("s", {}, now) : h("b", {}, now),
      shape !== "dot" && standing !== "withdrawn" && h("small", {}, SHAPE_WORDS[shape])),
    changesText(reading, units).map((say) => h("small", {}, say)));
}

function cells(row: Row, units: Units): Record<ColumnName, Node | string> {
  const r = row.point.reading;
  return {
    "Of": `${row.number}. ${row.size.name}, ${row.size.size}`,
    "No.": h("span", {}, row.point.number === null ? "\u2013" : String(row.point.number), h("small", {}, `entry ${r.id}`)),
    "Block": r.block === null ? "" : String(r.block),
    "Value": valueCell(row, units),
    "Wood, stick": [r.wood, r.stick && `stick ${r.stick}`].filter(Boolean).join(", "),
    "When": timeText(r.taken_at ?? r.at),
    "By, with": [r.by, r.instrument].filter(Boolean).join(", "),
    "Remark": r.note,
    "": "",
  };
}

// Columns in which nothing stands leave their room to the others.
function isFilled(column: ColumnName, rows: readonly Row[]): boolean {
  const readings = rows.map((row) => row.point.reading);
  if (column === "Block") return readings.some((r) => r.block !== null);
  if (column === "Wood, stick") return readings.some((r) => r.wood !== "" || r.stick !== "");
  return column !== "Remark" || readings.some((r) => r.note !== "");
}

export function readingsTable(asked: TableAsked): ReadingsTable {
  const { rows, units } = asked;
  const names = COLUMNS.filter((c) => (c === "Of" ? !asked.ofOne : isFilled(c, rows)));
  const lines = new Map<number, HTMLTableRowElement>();
  const body = h("tbody");
  let open: HTMLTableRowElement | null = null;

  const close = (): void => {
    open?.remove();
    open = null;
  };
  const change = (row: Row, kind: ChangeKind, button: HTMLElement): void => {
    close();
    const shut = (): void => {
      close();
      button.focus();
      asked.closed();
    };
    const form = changeForm({
      batch: asked.batch, reading: row.point.reading, kind, units, close: shut,
      done: (d) => { close(); asked.done(d); },
    });
    open = h("tr", { class: "change-row" }, h("td", { colspan: names.length }, form));
    lines.get(row.point.reading.id)?.after(open);
    [...form.querySelectorAll("input")].find((input) => input.value === "")?.focus();
  };
  const deed = (row: Row, kind: ChangeKind, label: string): HTMLElement => {
    const button = h("button", { type: "button", "aria-label": `${label} entry ${row.point.reading.id}`, onclick: () => change(row, kind, button) }, label);
    return button;
  };
  const actions = (row: Row): HTMLElement => {
    if (row.point.standing === "withdrawn") return h("div", { class: "actions" }, deed(row, "put back", "Put back"));
    return h("div", { class: "actions" }, deed(row, "correct", "Correct"), deed(row, "withdraw", "Withdraw"));
  };
  const line = (row: Row): HTMLTableRowElement => {
    const said = cells(row, units);
    const tr = h("tr", { "data-standing": row.point.standing, tabindex: -1 }, names.map((c) =>
      h("td", { "data-label": c, class: [c === "No." || c === "Block" ? "number" : "", c === "" ? "no-print" : "", said[c] === "" && c !== "" ? "nothing" : ""].join(" ").trim() || null },
        c === "" ? actions(row) : said[c])));
    lines.set(row.point.reading.id, tr);
    return tr;
  };
  const more = h("button", { type: "button", onclick: () => fill(rows.length) }, `Show all ${rows.length} readings`);
  const caption = `${plural(rows.length, "reading")}, the newest first`;
  const title = h("caption");
  const fill = (most: number): void => {
    title.textContent = most < rows.length ? `${caption}; ${most} are shown` : caption;
    show(body, rows.slice(0, most).map(line));
    more.hidden = rows.length <= most;
  };
  fill(fewAtOnce());
  const head = h("thead", {}, h("tr", {}, names.map((c) => h(c === "" ? "td" : "th", { scope: c === "" ? null : "col", class: c === "No." || c === "Block" ? "number" : c === "" ? "no-print" : null }, c))));
  const element = h("section", { class: "sheet readings", "aria-label": "Readings" },
    h("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": caption }, h("table", {}, title, head, body)), more);
  return {
    element,
    busy: () => open !== null,
    show: (id) => {
      if (!lines.has(id)) fill(rows.length);
      const tr = lines.get(id);
      tr?.scrollIntoView({ block: "center" });
      tr?.focus();
    },
  };
}
