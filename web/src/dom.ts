// dom.ts - makes elements. Text is always text: nothing here reads HTML.

type Child = Node | string | number | null | undefined | false;
type Value = string | number | boolean | null | undefined | ((event: never) => void);

// h("button", { class: "big", onclick: save, "aria-label": "Save" }, "Save"): attributes by name, listeners as on...
export function h<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Record<string, Value> = {},
  ...children: (Child | Child[])[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  setAttributes(element, attributes);
  element.append(...nodes(children));
  return element;
}

const SVG = "http://www.w3.org/2000/svg";
export function svg<K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Record<string, Value> = {},
  ...children: (Child | Child[])[]
): SVGElementTagNameMap[K] {
  const element = document.createElementNS(SVG, tag);
  setAttributes(element, attributes);
  element.append(...nodes(children));
  return element;
}

function setAttributes(element: Element, attributes: Record<string, Value>): void {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name.slice(2), value as EventListener);
    else if (name === "value" && "value" in element) (element as HTMLInputElement).value = String(value ?? "");
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, String(value));
  }
}

function nodes(children: (Child | Child[])[]): (Node | string)[] {
  return children
    .flat()
    .filter((c): c is Node | string | number => c !== null && c !== undefined && c !== false)
    .map((c) => (typeof c === "number" ? String(c) : c));
}

export function show(host: Element, ...children: (Child | Child[])[]): void {
  host.replaceChildren(...nodes(children));
}

let counter = 0;
export function freshId(stem: string): string {
  return `${stem}-${++counter}`;
}

export interface Column<T> {
  head: string;
  cell: (row: T) => Child;
  number?: boolean; // right aligned
}

export function table<T>(caption: string, columns: Column<T>[], rows: readonly T[]): HTMLElement {
  const kind = (c: Column<T>): string | null => (c.number ? "number" : null);
  return h(
    "div",
    { class: "scroll", tabindex: 0, role: "region", "aria-label": caption },
    h(
      "table",
      {},
      h("caption", {}, h("span", { class: "caption" }, caption)),
      h("thead", {}, h("tr", {}, columns.map((c) => h("th", { scope: "col", class: kind(c) }, c.head)))),
      h("tbody", {}, rows.map((row) => h("tr", {}, columns.map((c) => h("td", { class: kind(c) }, c.cell(row)))))),
    ),
  );
}

// A label above its control.
export function field(label: string, control: HTMLElement, hint = ""): HTMLElement {
  if (!control.id) control.id = freshId("field");
  const hintId = hint ? freshId("hint") : "";
  if (hint) control.setAttribute("aria-describedby", hintId);
  return h(
    "div",
    { class: "field" },
    h("label", { for: control.id }, label),
    control,
    hint && h("small", { id: hintId }, hint),
  );
}

export function choice<T extends string>(
  options: readonly { id: T; label: string }[],
  chosen: T,
  take: (id: T) => void,
): HTMLSelectElement {
  const select = h(
    "select",
    { onchange: () => take(select.value as T) },
    options.map((o) => h("option", { value: o.id, selected: o.id === chosen }, o.label)),
  );
  return select;
}
