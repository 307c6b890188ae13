// prepared.ts - the leaves of the truing card, worked out beforehand: for the sled, without typing.
import { h } from "../dom";
import type { Prepared } from "./model";

function rowsTable(caption: string, rows: readonly string[][]): HTMLElement {
  const cell = (text: string, i: number): HTMLElement => (i === 0 ? h("th", { scope: "row" }, text) : h("td", { class: "number" }, text));
  return h("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": caption },
    h("table", {}, h("caption", {}, caption), h("tbody", {}, rows.map((row) => h("tr", {}, row.map(cell))))));
}

export function preparedSheet(p: Prepared, number: number): HTMLElement {
  const where = p.leaf_at ? `Light or height, and the leaves for it, mm, ${p.leaf_at}, or on the other side` : "Light or height, mm";
  return h("section", { class: "sheet" },
    h("h3", {}, `${number}. ${p.title}`), h("p", {}, p.does), h("p", {}, p.means), h("p", {}, `${p.formula} ${p.leave}`),
    p.rows.length > 0 && rowsTable(where, p.rows));
}
