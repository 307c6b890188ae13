// words.ts - what the program found, in the words of the bench.
import { current } from "../state";
import { axisUnit, type Units } from "../units";
import type { CheckResult, Step, Vec3 } from "./model";

const MINUS = "\u2212";

export function counted(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}

export function list(names: readonly string[]): string {
  if (names.length < 2) return names[0] ?? "";
  return `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
}

export function handed(shape: string, hand: string | null | undefined): string {
  return hand ? `${shape}, ${hand}-handed` : shape;
}

// An area: in square millimeters or square inches when the size of the sticks is known, else in lattice units.
export function areaText(mm2: number | null | undefined, units2: number, units: Units = current().units): string {
  if (mm2 === null || mm2 === undefined) return `${units2.toFixed(3)} square units`;
  return units === "mm" ? `${mm2.toFixed(0)} mm\u00b2` : `${(mm2 / 25.4 ** 2).toFixed(3)} ${axisUnit(units)}\u00b2`;
}

// "+x" and the like name the arrows that are drawn beside the puzzle.
export function wayText(direction: Vec3): string {
  const parts = direction.flatMap((v, i) => (v === 0 ? [] : [`${v < 0 ? MINUS : "+"}${"xyz"[i]}`]));
  return parts.join(" ");
}

// What the hands do at a step, each a short line.
export function handLines(step: Step): string[] {
  const lines = [step.hands < 3 ? "Two hands are enough." : `It takes ${step.hands} hands: let somebody help, or lay it on the bench.`];
  if (step.grips.length > 0) lines.push(`Take hold of ${list(step.grips)}.`);
  if (step.down) lines.push(`Hold it with ${wayText(step.down)} down.`);
  if (step.falls.length === 0) lines.push("Nothing slips by itself."); // what does is in the words of the step
  if (step.like !== null)
    lines.push(`The same as step ${step.like + 1}${step.mirrored ? ", mirrored" : ", elsewhere"}.`);
  return lines;
}

export function verdictLines(r: CheckResult): string[] {
  const { count, complete } = r.assemblies;
  const lines: string[] = [];
  if (count === 0) lines.push(complete ? "It does not go together: no assembly fills the goal." : "None found so far.");
  else lines.push(`It goes together in ${complete ? "" : "at least "}${counted(count, "way")}.`);
  if (!complete) lines.push("The search was ended before all were looked at.");
  if (r.comes_apart === true && r.take_apart)
    lines.push(`It comes apart in ${counted(r.take_apart.moves_total, "step")}, ${r.take_apart.moves_to_first} to the first parting.`);
  if (r.comes_apart !== true && count > 0)
    lines.push(r.verdict === "none" ? "The assembly looked at does not come apart: that is proven." : "Whether it comes apart was not found out.");
  return lines;
}
