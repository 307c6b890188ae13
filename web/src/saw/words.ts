// words.ts - how the numbers of a set-up are said: shared by the desk's view and the one at the saw.
import { smallText, type Units } from "../units";
import type { Correction, SetUp, Stop } from "./model";

// No digits that say nothing.
export function sizeText(mm: number, units: Units): string {
  const [number = "", unit = "mm"] = smallText(mm, units, 4).split(" ");
  return `${number.includes(".") ? number.replace(/0+$/, "").replace(/\.$/, "") : number} ${unit}`;
}

// The units in which the blocks of a stack are marked: those that take fewer digits for all of them.
export function markedUnits(stack: readonly number[]): Units {
  const digits = (units: Units): number => stack.map((mm) => sizeText(mm, units)).join("").length;
  return digits("inch") < digits("mm") ? "inch" : "mm";
}

// Gauge blocks by what is marked on them, whatever unit is shown else.
export function markedStack(stack: readonly number[]): { sizes: string[]; unit: string } {
  const units = markedUnits(stack);
  return { sizes: stack.map((mm) => sizeText(mm, units).split(" ")[0]!), unit: units === "inch" ? "in" : "mm" };
}

// Leaves by what is marked on them, too: with two digits of millimeters, or three of inches.
export function leavesText(leaves: readonly number[]): string {
  const units = markedUnits(leaves);
  const short = (mm: number): string => smallText(mm, units, 2);
  const sizes = leaves.map((l) => (sizeText(l, units).length > short(l).length ? sizeText(l, units) : short(l)));
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
export function adviceHead(c: Correction): string {
  if (c.advice === "shim") return `Put in: ${leavesText(c.leaves)}`;
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
