// queue.ts - readings kept on this phone until the ledger has them.
//
// Every entry has a place of its own in localStorage, written before anything else is done with it: synchronous, so
// that it stands when the phone sleeps or the page is killed at the next instant, and two tabs never overwrite one
// another's list. What is undone while it may be on its way is marked apart from the entry: the mark stands whatever
// another tab writes over the entry.
import { entryOf, type Draft, type Entry } from "./entry";

const ENTRY = "stickwright.reading.";
const UNDONE = "stickwright.undone.";
const SHOWN_AFTERWARDS = 12; // entries that are in the ledger already, for looking back and undoing
const MARKS_KEPT_MS = 7 * 24 * 3600 * 1000;

function keysWith(stem: string): string[] {
  return Object.keys(localStorage).filter((k) => k.startsWith(stem));
}

function read(key: string): Entry | null {
  try {
    const e = JSON.parse(localStorage.getItem(key) ?? "null") as Entry | null;
    return e && typeof e.key === "string" && typeof e.value === "string" && Array.isArray(e.ids) ? e : null;
  } catch {
    return null; // not ours: left as it is
  }
}

// In the order in which they were entered.
export function entries(): Entry[] {
  const all = keysWith(ENTRY).map(read).filter((e): e is Entry => e !== null);
  return all.sort((a, b) => a.order - b.order || (a.key < b.key ? -1 : 1));
}

export function waiting(): Entry[] {
  return entries().filter((e) => e.ids.length === 0);
}

export function find(key: string): Entry | null {
  return read(ENTRY + key);
}

//   errors  throws where the phone keeps nothing (full, or forbidden): the caller says so and keeps what was typed
export function put(e: Entry): void {
  localStorage.setItem(ENTRY + e.key, JSON.stringify(e));
}

// Behind all that are there, whatever the phone's clock says by now.
export function add(draft: Draft): Entry {
  const e = entryOf(draft, 1 + Math.max(0, ...entries().map((one) => one.order)));
  put(e);
  return e;
}

export function drop(key: string): void {
  localStorage.removeItem(ENTRY + key);
}

export function isUndone(key: string): boolean {
  return localStorage.getItem(UNDONE + key) !== null;
}

// An entry that was never sent is gone at once; of another the ledger is asked whether it has it, and then withdraws it.
export function undo(key: string): void {
  const e = find(key);
  if (!e || e.ids.length > 0) return;
  localStorage.setItem(UNDONE + key, String(Date.now()));
  if (!e.tried) drop(key);
}

export function forgetUndone(key: string): void {
  localStorage.removeItem(UNDONE + key);
}

// Takes away what nobody looks back on any more.
export function tidy(): void {
  const stored = entries().filter((e) => e.ids.length > 0);
  for (const e of stored.slice(0, Math.max(0, stored.length - SHOWN_AFTERWARDS))) drop(e.key);
  for (const k of keysWith(UNDONE))
    if (!(Date.now() - Number(localStorage.getItem(k)) < MARKS_KEPT_MS) && !find(k.slice(UNDONE.length)))
      localStorage.removeItem(k);
}

// Another tab changed the entries.   returns  its undo
export function onOtherTab(listener: () => void): () => void {
  const heard = (event: StorageEvent): void => {
    if (event.key === null || event.key.startsWith(ENTRY) || event.key.startsWith(UNDONE)) listener();
  };
  window.addEventListener("storage", heard);
  return () => window.removeEventListener("storage", heard);
}
