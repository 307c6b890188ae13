// wedge.ts - what a caliper that types like a keyboard, or a thumb on the number pad, has written.

export type Typed = { ok: true; value: string } | { ok: false; say: string };

// One number, as the ledger reads it: a sign, digits with one point, a unit. Comma for point, zeros in front, line ends,
// the control characters that some calipers send along and blanks are taken away; what is no number then is told.
//   value  without a unit where none was written
export function readTyped(text: string): Typed {
  const bare = text.replace(/[\u0000-\u001f\u007f-\u009f\u200b-\u200f\ufeff]/g, " ").trim();
  if (bare === "") return { ok: false, say: "Nothing typed yet." };
  const match = /^([+\-\u2212]?)\s*(\d*)(?:[.,](\d*))?\s*(mm|in|"|″)?$/i.exec(bare);
  const [, sign = "", whole = "", part = "", unit = ""] = match ?? [];
  if (!match || whole + part === "") return { ok: false, say: `"${bare}" is not one number.` };
  if (/[-\u2212]/.test(sign)) return { ok: false, say: `"${bare}" is below zero: set the caliper to zero, or turn its direction.` };
  const number = `${whole.replace(/^0+(?=\d)/, "") || "0"}${part ? `.${part}` : ""}`;
  return { ok: true, value: unit ? `${number} ${/mm/i.test(unit) ? "mm" : "in"}` : number };
}

// Whether a key belongs into the reading when the focus is elsewhere.
export function belongsToReading(event: Pick<KeyboardEvent, "key" | "ctrlKey" | "altKey" | "metaKey">): boolean {
  return !event.ctrlKey && !event.altKey && !event.metaKey && /^[0-9.,]$/.test(event.key);
}
