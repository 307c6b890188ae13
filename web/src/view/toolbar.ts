// toolbar.ts - the batch that is worked on, the units, light or dark.
import { choice, h } from "../dom";
import { change, current, type Theme } from "../state";
import { UNIT_CHOICES } from "../units";

const THEMES: { id: Theme; label: string }[] = [
  { id: "auto", label: "as the device is set" },
  { id: "light", label: "light" },
  { id: "dark", label: "dark" },
];

export function applyTheme(theme: Theme): void {
  if (theme === "auto") delete document.documentElement.dataset["theme"];
  else document.documentElement.dataset["theme"] = theme;
}

function labelled(label: string, control: HTMLSelectElement): HTMLElement {
  return h("label", { class: "inline" }, h("span", {}, label), control);
}

export function toolbar(): HTMLElement[] {
  const s = current();
  const batches = s.folder?.batches.map((b) => ({ id: b.file, label: `${b.name} (${b.file})` })) ?? [];
  const parts: HTMLElement[] = [];
  if (batches.length > 0) parts.push(labelled("Batch", choice(batches, s.batch, (batch) => change({ batch }))));
  parts.push(labelled("Lengths in", choice(UNIT_CHOICES, s.units, (units) => change({ units }))));
  parts.push(
    labelled("Screen", choice(THEMES, s.theme, (theme) => {
      applyTheme(theme);
      change({ theme });
    })),
  );
  return parts;
}

applyTheme(current().theme);
