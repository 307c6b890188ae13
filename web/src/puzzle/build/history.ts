// history.ts - what was, is and would be again: undo and redo over plain values.

export interface History<T> {
  past: readonly T[];
  now: T;
  future: readonly T[]; // the next one first
  kind: string; // of the last change; a run of changes of one kind is undone at once
}

const MOST = 200;

export function begin<T>(now: T): History<T> {
  return { past: [], now, future: [], kind: "" };
}

function same<T>(a: T, b: T): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

//   kind  "" for a change that stands by itself; else changes of this kind in a row count as one, as typing does
export function record<T>(history: History<T>, next: T, kind = ""): History<T> {
  if (same(history.now, next)) return history;
  if (kind !== "" && kind === history.kind && history.past.length > 0 && history.future.length === 0)
    return { ...history, now: next };
  return { past: [...history.past, history.now].slice(-MOST), now: next, future: [], kind };
}

export function undo<T>(history: History<T>): History<T> {
  const before = history.past.at(-1);
  if (before === undefined) return history;
  return { past: history.past.slice(0, -1), now: before, future: [history.now, ...history.future], kind: "" };
}

export function redo<T>(history: History<T>): History<T> {
  const [next, ...rest] = history.future;
  if (next === undefined) return history;
  return { past: [...history.past, history.now], now: next, future: rest, kind: "" };
}
