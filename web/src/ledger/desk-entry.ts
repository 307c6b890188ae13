// desk-entry.ts - what was typed at the desk, made into readings with keys: sent twice they are stored once.
import { withUnit, type Units } from "../units";
import type { DeskEntry, SentReading } from "./model";

// "16.02 16,03 mm; 0.6307in": blanks and semicolons part them; a unit belongs to the number before it.
export function splitValues(text: string): string[] {
  return text.replace(/([\d.,])[ \t]+(mm|in|"|\u2033)(?=$|[\s;/])/gi, "$1$2").replace(/\s*\/\s*/g, "/").split(/[\s;]+/).filter(Boolean);
}

// Without a blank: the program parts the values of a line there.
function width(text: string, units: Units): string {
  return text.trim() === "" ? "" : withUnit(text, units).replace(/\s+/g, "");
}

// Of widths "15.98/16.01" is one block across both pairs of sides.
export function valueParts(text: string, widths: boolean, units: Units): Pick<SentReading, "value" | "value_2"> {
  if (!widths) return { value: withUnit(text, units) };
  if (!text.includes("/")) return { value: width(text, units) };
  const at = text.indexOf("/");
  return { value: width(text.slice(0, at), units), value_2: width(text.slice(at + 1), units) };
}

// 128 random bits in hex. crypto.randomUUID is missing where the page came over plain http.
export function freshKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return `desk-${[...bytes].map((b) => b.toString(16).padStart(2, "0")).join("")}`;
}

export type Typed = Omit<DeskEntry, "readings"> & { values: string; block: number | null };

// The same words typed after no answer are the same readings: they keep their keys until the program has answered.
export function keyKeeper(): { entry(typed: Typed, units: Units): DeskEntry; answered(): void } {
  let words = "";
  let keys: string[] = [];
  return {
    entry: (typed, units) => {
      const { values, block, ...about } = typed;
      const parts = splitValues(values).map((v) => valueParts(v, typed.stop === 0, units));
      const said = JSON.stringify([about, block, parts]);
      if (said !== words) {
        words = said;
        keys = parts.map(freshKey);
      }
      return {
        ...about,
        readings: parts.map((p, i) => ({ key: keys[i]!, ...p, ...(block === null ? {} : { block: block + i }) })),
      };
    },
    answered: () => {
      words = "";
    },
  };
}
