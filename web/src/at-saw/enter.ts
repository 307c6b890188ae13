// enter.ts - from what was typed to an entry on this phone, or back from there.
import { withUnit, type Units } from "../units";
import type { Bench } from "./bench";
import type { Entry } from "./entry";
import { nextNumber, remember, remembered, setLastNumber } from "./memory";
import { add, drop, entries, isUndone, undo } from "./queue";
import { readTyped } from "./wedge";

// What came of an Enter: kept; more is asked for; or why not.
export type Entered = { kept: Entry } | { asks: "second width" } | { say: string };

const FULL = "This phone cannot keep it: its storage is full or switched off. Write the reading down on paper.";

function keep(bench: Bench, value: string, value_2: string, block: number | null): Entered {
  const { wood, stick, by } = remembered();
  const draft = {
    batch: bench.batch, setup: bench.setup.id, stop: bench.widths ? 0 : bench.stop, value, value_2, block, wood, stick, by,
  };
  let kept: Entry;
  try {
    kept = add(draft);
  } catch {
    return { say: FULL };
  }
  if (block !== null) setLastNumber(bench.batch, bench.setup.id, wood, block);
  return { kept };
}

// "": skipped
function readOne(text: string, units: Units): { value: string } | { say: string } {
  if (text.trim() === "") return { value: "" };
  const typed = readTyped(text);
  return typed.ok ? { value: withUnit(typed.value, units) } : { say: typed.say };
}

function enterWidths(bench: Bench, text: string, units: Units, block: number | null): Entered {
  const { first, wood } = remembered();
  if (wood === "") return { say: "Which wood is it? Choose it first: blocks are sorted by it." };
  const parts = text.split("/");
  if (parts.length > 2) return { say: "A block has two widths, no more." };
  const one = readOne(parts[0]!, units);
  if ("say" in one) return one;
  if (parts.length === 1 && first === null) {
    remember({ first: one.value });
    return { asks: "second width" };
  }
  const two = parts.length === 2 ? readOne(parts[1]!, units) : one;
  if ("say" in two) return two;
  const value = parts.length === 2 ? one.value : (first ?? "");
  if (value === "" && two.value === "") {
    remember({ first: null });
    return { say: "Neither width was typed: width 1 is asked for again." };
  }
  const entered = keep(bench, value, two.value, block);
  if ("kept" in entered) remember({ first: null });
  return entered;
}

//   block  the number on the block, where one was asked for
export function enterReading(bench: Bench, text: string, units: Units, block: number | null): Entered {
  if (bench.widths) return enterWidths(bench, text, units, block);
  const typed = readTyped(text);
  return typed.ok ? keep(bench, withUnit(typed.value, units), "", block) : { say: typed.say };
}

// The block that this phone measures next, as far as it knows.
export function blockToMeasure(bench: Bench): number | null {
  return nextNumber(bench.batch, bench.setup.id, remembered().wood);
}

// What the ledger knows of the numbers, in case this phone was not the last to give one.
export function learnNumbers(bench: Bench, readings: { block: number | null; wood: string }[]): void {
  for (const wood of ["", ...Object.keys(bench.setup.needed)]) {
    const numbers = readings.filter((r) => r.wood === wood && r.block !== null).map((r) => r.block!);
    const known = (nextNumber(bench.batch, bench.setup.id, wood) ?? 1) - 1;
    setLastNumber(bench.batch, bench.setup.id, wood, Math.max(known, 0, ...numbers));
  }
}

// Undoes the last reading that this phone has taken of this set-up.   returns  it, or null
export function undoLast(bench: Bench): Entry | null {
  const mine = entries().filter((e) => e.batch === bench.batch && e.setup === bench.setup.id && e.withdraws === null);
  const last = mine.reverse().find((e) => !isUndone(e.key));
  if (!last) return null;
  for (const id of last.ids)
    add({ batch: last.batch, setup: last.setup, stop: last.stop, value: last.value, by: last.by, withdraws: id });
  if (last.ids.length > 0 || (last.held && !last.held.whole)) drop(last.key);
  else undo(last.key);
  if (last.block !== null) setLastNumber(last.batch, last.setup, last.wood, last.block - 1);
  return last;
}

// A reading that was refused comes back into the field.
export function takeBack(e: Entry): string {
  const text = e.value_2 ? `${e.value}/${e.value_2}` : e.value;
  remember({ draft: text, first: null });
  drop(e.key);
  return text;
}
