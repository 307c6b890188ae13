// entry.ts - one reading, or the withdrawal of one, on its way from the phone to the ledger.

export interface Entry {
  key: string; // of this reading, unique for ever: sent twice it is stored once
  order: number; // entries are sent by it, ascending
  batch: string;
  setup: string;
  stop: number; // from 1; 0: a width
  value: string; // as typed, with its unit; "" where the first width was not measured
  value_2: string; // of a width: across the other pair; else ""
  block: number | null;
  wood: string;
  stick: string;
  by: string;
  taken_at: string;
  withdraws: number | null; // a withdrawal: of the ledger's entry with this id
  tried: boolean; // it was sent at least once: the ledger may have it already
  held: { say: string; whole: boolean } | null; // refused; whole: the call, not this reading
  ids: number[]; // in the ledger: two where both widths of a block were measured; none: it has not answered yet
}

export type Draft = Pick<Entry, "batch" | "setup" | "stop" | "value"> & Partial<Entry>;

// 128 random bits in hex. crypto.randomUUID is missing where the page came over plain http.
export function freshKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return `phone-${[...bytes].map((b) => b.toString(16).padStart(2, "0")).join("")}`;
}

export function entryOf(draft: Draft, order: number): Entry {
  return {
    value_2: "", block: null, wood: "", stick: "", by: "", withdraws: null, tried: false, held: null, ids: [],
    taken_at: new Date().toISOString().replace(/\.\d+Z$/, "Z"),
    ...draft,
    key: freshKey(),
    order,
  };
}

// What one call to the ledger may hold together.
export function samePlace(a: Entry, b: Entry): boolean {
  const same = (["batch", "setup", "stop", "wood", "stick", "by"] as const).every((k) => a[k] === b[k]);
  return same && a.withdraws === null && b.withdraws === null;
}

export function entryText(e: Entry): string {
  if (e.withdraws !== null) return `withdraw ${e.value}`;
  const value = e.value_2 ? `${e.value || "-"} / ${e.value_2}` : e.value;
  return e.block === null ? value : `block ${e.block}: ${value}`;
}
