// words.ts - how the numbers of a set-up are said: shared by the desk's view and the one at the saw.
import { smallText, type Units } from "../units";
import type { Correction, SetUp, Stop } from "./model";

// No digits that say nothing.
export function sizeText(mm: number, units: Units): string {
  const [number = "", unit = "mm"] = smallText(mm, units, 4).split(" ");
  return `${number.includes(".") ? number.replace(/0+$/, "").replace(/\.$/, "") : number} ${unit}`;
}

// Gauge blocks by what is marked on them, whatever unit is shown else: in the unit that takes fewer digits for all of them.
export function markedStack(stack: readonly number[]): { sizes: string[]; unit: string } {
  const marks = (units: Units): string[] => stack.map((mm) => sizeText(mm, units).split(" ")[0]!);
  const [mm, inch] = [marks("mm"), marks("inch")];
  return inch.join("").length < mm.join("").length ? { sizes: inch, unit: "in" } : { sizes: mm, unit: "mm" };
}

export function leavesText(leaves: readonly number[], units: Units): string {
  const sizes = leaves.map((l) => smallText(l, units, 2));
  return `${leaves.length > 1 ? "leaves" : "leaf"} ${sizes.join(" + ")}`;
}

export function sumOf(stack: readonly number[]): string {
  const { sizes, unit } = markedStack(stack);
  return `${sizes.join(" + ")} ${unit}`;
}

export function contactText(stop: Stop): string {
  const least = stop.least_contact !== stop.contact ? `, at least ${stop.least_contact}` : "";
  return `${stop.face} face, ${stop.contact} contact${least}`;
}

export function woodsText(setup: SetUp): string[] {
  return Object.keys({ ...setup.needed, ...setup.spares }).map((wood) => {
    const spare = setup.spares[wood] ?? 0;
    return `${wood}: ${setup.needed[wood] ?? 0}${spare > 0 ? ` + ${spare} spare` : ""}`;
  });
}

// What to do, in as few words as can be read from where the saw is.
export function adviceHead(c: Correction, units: Units): string {
  if (c.advice === "shim") return `Put in: ${leavesText(c.leaves, units)}`;
  if (c.advice === "leave") return "Leave it as it is";
  if (c.advice === "remake") return "Set the stop anew";
  return "True the miter first";
}

// A number and its unit apart, for where the number is drawn large; all of it as the number where a fraction has more parts.
export function parted(text: string): { number: string; unit: string } {
  const match = /^(\S+) (mm|in)$/.exec(text);
  return match ? { number: match[1]!, unit: match[2]! } : { number: text, unit: "" };
}

export function knownDegrees(degrees: number): string {
  return `${degrees.toFixed(4)}\u00b0`;
}

// A number that is known of the saw, angles in degrees as they are set and read.
export function knownText(value: number, unit: string): string {
  const degrees = (value * 180) / Math.PI;
  if (unit === "rad") return knownDegrees(degrees);
  if (unit === "rad/N") return `${(degrees * 1000).toFixed(4)}\u00b0 per kN`;
  return `${Number(value.toPrecision(6))} ${unit}`;
}
