// filter-bar.ts - which size is looked at, what is searched for, and the ways out onto paper and into other programs.
import { field, h, show } from "../dom";
import type { Filter } from "./filter";
import type { ReadSize } from "./model";

export interface FilterBar {
  element: HTMLElement;
  show(sizes: readonly ReadSize[], numbers: ReadonlyMap<string, number>, filter: Filter, download: string): void;
}

interface Option {
  id: string;
  label: string;
  filter: Filter;
}

function count(s: ReadSize): string {
  const n = s.readings.length + s.not_counted.length;
  return n === 0 ? "no readings" : n === 1 ? "1 reading" : `${n} readings`;
}

function optionOf(s: ReadSize, number: number): Option {
  return {
    id: `${s.setup} ${s.size}`, label: `${number}. ${s.name}, ${s.size} (${count(s)})`,
    filter: { setup: s.setup, stop: s.stop, width: s.width, find: "" },
  };
}

function chosenId(f: Filter): string {
  if (!f.setup) return "";
  if (f.stop !== null) return `${f.setup} stop ${f.stop}`;
  return f.width !== null ? `${f.setup} width ${f.width}` : f.setup;
}

export function filterBar(take: { choose: (f: Filter) => void; find: (text: string) => void }): FilterBar {
  let options: Option[] = [];
  const which = h("select", {
    onchange: () => {
      const o = options.find((one) => one.id === which.value);
      if (o) take.choose({ ...o.filter, find: find.value.trim() });
    },
  });
  const find = h("input", { type: "search", autocomplete: "off", size: 22, oninput: () => take.find(find.value.trim()) });
  const out = h("div", { class: "field ways-out" });
  const element = h("div", { class: "row filter no-print", role: "search", "aria-label": "Which readings" },
    field("Set-up and size", which), field("Find", find, "wood, stick, name, remark, instrument, or number on the block"), out);

  const optionsOf = (id: string, number: number, own: readonly ReadSize[]): Option[] => {
    const each = own.map((s) => optionOf(s, number));
    if (own.length < 2) return each;
    return [{ id, label: `${number}. ${own[0]!.name}, all its sizes`, filter: { setup: id, stop: null, width: null, find: "" } }, ...each];
  };
  return {
    element,
    show: (sizes, numbers, filter, download) => {
      options = [{ id: "", label: "all set-ups", filter: { setup: "", stop: null, width: null, find: "" } }];
      for (const [id, n] of numbers) options.push(...optionsOf(id, n, sizes.filter((s) => s.setup === id)));
      show(which, options.map((o) => h("option", { value: o.id }, o.label)));
      which.value = chosenId(filter);
      if (find.value.trim() !== filter.find) find.value = filter.find;
      show(out, download && h("div", { class: "actions" },
        h("a", { class: "button", href: download, download: "" }, "Download the table (CSV)"),
        h("button", { type: "button", onclick: () => print() }, "Print")),
        download && filter.find !== "" && h("small", {}, "The download holds all of this size, whatever is searched for."));
    },
  };
}
