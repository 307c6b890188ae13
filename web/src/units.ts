// units.ts - how lengths are shown: in millimeters, in inches, or in inches with fractions as on a rule.

export type Units = "mm" | "inch" | "fraction";

export const UNIT_CHOICES: { id: Units; label: string }[] = [
  { id: "mm", label: "mm" },
  { id: "inch", label: "inch, decimal" },
  { id: "fraction", label: "inch, fractions" },
];

const MM_PER_INCH = 25.4;
const FINEST = 64; // parts of an inch

const MINUS = "\u2212";

function signed(text: string, negative: boolean): string {
  return negative ? MINUS + text : text;
}

// One more digit than of millimeters: 0.01 mm are 0.0004 in.
function decimalInch(mm: number, digits: number): string {
  const text = (Math.abs(mm) / MM_PER_INCH).toFixed(digits + 1);
  return `${signed(text, mm < 0 && Number(text) !== 0)} in`;
}

function ruleMark(sixtyFourths: number): string {
  const whole = Math.floor(sixtyFourths / FINEST);
  let top = sixtyFourths % FINEST;
  let bottom = FINEST;
  while (top > 0 && top % 2 === 0) (top /= 2), (bottom /= 2);
  const fraction = top === 0 ? "" : `${top}/${bottom}`;
  if (whole === 0) return fraction || "0";
  return fraction ? `${whole} ${fraction}` : String(whole);
}

// "57/64 in + 0.0002": the nearest mark of the rule, and what is left over, which no rule shows.
function fractionInch(mm: number, digits: number): string {
  const inches = Math.abs(mm) / MM_PER_INCH;
  if (inches < 1 / FINEST) return decimalInch(mm, digits);
  const marks = Math.round(inches * FINEST);
  const left = (inches - marks / FINEST).toFixed(digits + 1);
  const rest = Number(left) === 0 ? "" : ` ${Number(left) < 0 ? MINUS : "+"} ${left.replace("-", "")}`;
  return signed(`${ruleMark(marks)} in${rest}`, mm < 0);
}

// A length given in mm, with its unit. `digits` are those of millimeters.
export function lengthText(mm: number, units: Units, digits = 2): string {
  if (units === "inch") return decimalInch(mm, digits);
  if (units === "fraction") return fractionInch(mm, digits);
  const text = Math.abs(mm).toFixed(digits);
  return `${signed(text, mm < 0 && Number(text) !== 0)} mm`;
}

// What the small differences of fitting and measuring are shown in: fractions would not say anything.
export function smallText(mm: number, units: Units, digits = 3): string {
  return lengthText(mm, units === "fraction" ? "inch" : units, digits);
}

// The number and the label for axes of charts.
export function axisValue(mm: number, units: Units): number {
  return units === "mm" ? mm : mm / MM_PER_INCH;
}
export function axisUnit(units: Units): string {
  return units === "mm" ? "mm" : "in";
}

// The numbers at an axis, with as many digits as tell each from the next; so 0.0005 in does not become 0.001.
export function tickTexts(at: readonly (number | null)[]): string[] {
  const numbers = at.filter((v): v is number => v !== null);
  const step = Math.min(...numbers.slice(1).map((v, i) => Math.abs(v - numbers[i]!)), Math.abs(numbers[0] ?? 1) || 1);
  let digits = 0;
  while (digits < 9 && numbers.some((v) => Math.abs(Number(v.toFixed(digits)) - v) > step / 1000)) ++digits;
  const text = (v: number): string => {
    const plain = Math.abs(v).toFixed(digits);
    return signed(plain, v < 0 && Number(plain) !== 0);
  };
  return at.map((v) => (v === null ? "" : text(v)));
}

// A length as the keyboard gave it, with the unit that is shown when none was written: the program reads it.
export function withUnit(text: string, units: Units): string {
  const trimmed = text.trim().replace(",", ".");
  return /[a-zµ"″]/i.test(trimmed) ? trimmed : `${trimmed} ${units === "mm" ? "mm" : "in"}`;
}
