// state.ts - what the page remembers between views: one plain object, changed only here.
import type { Units } from "./units";

export type Theme = "auto" | "light" | "dark";

export interface DesignFile {
  file: string;
  name: string;
  family: string;
}
export interface BatchFile {
  file: string;
  name: string;
  designs: string[];
  shop: string;
}
export interface FolderView {
  name: string;
  designs: DesignFile[];
  batches: BatchFile[];
  shops: { file: string; name: string }[];
  broken: { file: string; code: string; where: string; say: string; excerpt: string }[];
  lan: boolean;
  version: string;
}

export interface State {
  folder: FolderView | null;
  batch: string; // file names within the folder; "" when there is none
  design: string;
  units: Units;
  theme: Theme;
}

const KEPT = "stickwright";

function kept(): Partial<State> {
  try {
    return JSON.parse(localStorage.getItem(KEPT) ?? "{}") as Partial<State>;
  } catch {
    return {};
  }
}

const before = kept();
const state: State = {
  folder: null,
  batch: before.batch ?? "",
  design: before.design ?? "",
  units: before.units ?? "mm",
  theme: before.theme ?? "auto",
};

type Listener = (s: Readonly<State>, changed: (keyof State)[]) => void;
const listeners = new Set<Listener>();

export function current(): Readonly<State> {
  return state;
}

export function change(part: Partial<State>): void {
  const changed = (Object.keys(part) as (keyof State)[]).filter((key) => part[key] !== state[key]);
  if (changed.length === 0) return;
  Object.assign(state, part);
  const { batch, design, units, theme } = state;
  try {
    localStorage.setItem(KEPT, JSON.stringify({ batch, design, units, theme }));
  } catch {
    // A browser that keeps nothing: the page works on, and forgets.
  }
  for (const listener of [...listeners]) listener(state, changed);
}

// returns  its undo
export function onChange(listener: Listener): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}
