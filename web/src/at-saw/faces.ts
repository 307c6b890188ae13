// faces.ts - setting a stop, and cutting: numbers to be read from where the saw is run.
import { h } from "../dom";
import { current } from "../state";
import { lengthText } from "../units";
import { contactText, leavesText, markedStack, markedUnits, parted, sizeText } from "../saw/words";
import { sawSteps, type Bench } from "./bench";
import { blocksSawn, setBlocksSawn } from "./memory";

// As large as the width allows: the sheet sizes it by how many signs there are.
export function bigNumber(what: string, text: string): HTMLElement {
  const { number, unit } = parted(text);
  return h(
    "p",
    { class: "big-number", style: `--signs: ${number.length + (unit ? 1 : 0)}` },
    h("span", { class: "only-read" }, `${what}: `),
    h("b", {}, number),
    unit && h("span", { class: "unit" }, unit),
  );
}

export function button(label: string, act: () => void, attributes: Record<string, string | boolean | null> = {}): HTMLElement {
  return h("button", { type: "button", onclick: act, ...attributes }, label);
}

export function stopChoice(bench: Bench): HTMLElement | null {
  if (bench.setup.stops.length < 2) return null;
  const steps = sawSteps(bench.setup);
  const cutting = bench.face === "cut";
  // Where it is cut, the stop is the cut's: another stop leads to the first cut that is made at it.
  const now = cutting ? (steps[bench.step]?.stop ?? bench.stop) : bench.stop;
  const turnTo = (stop: number): void => {
    const step = steps.findIndex((s) => s.stop === stop);
    bench.turn(cutting && step >= 0 ? { stop, step } : { stop });
  };
  const one = (_: unknown, i: number): HTMLElement =>
    button(`Stop ${i + 1}`, () => turnTo(i + 1), { "aria-pressed": String(now === i + 1) });
  return h("div", { class: "stop-choice", role: "group", "aria-label": "which stop" }, bench.setup.stops.map(one));
}

export function stackList(stack: readonly number[]): HTMLElement {
  const { sizes, unit } = markedStack(stack);
  return h("ul", { class: "stack", "aria-label": `gauge blocks, ${unit}` }, sizes.map((s) => h("li", {}, s)));
}

export function stopFace(bench: Bench, aside: HTMLElement): HTMLElement {
  const { setup } = bench;
  const stop = setup.stops[bench.stop - 1]!;
  const { units } = current();
  const leaves = bench.leaves.length > 0 ? `The ledger has ${leavesText(bench.leaves)} under it since.` : "";
  return h(
    "section",
    { class: "face stop-face", "aria-label": "set the stop" },
    h("div", { class: "lead" },
      h("h2", {}, `Stop ${bench.stop}: ${contactText(stop)}`),
      bigNumber("gauge blocks together", sizeText(stop.stack_total_mm, markedUnits(stop.stack))),
      stackList(stop.stack)),
    h("div", { class: "side" },
      h("p", { class: "cut-says" }, stop.setting_says),
      h("p", {}, stop.says),
      setup.stops_say && h("p", {}, setup.stops_say),
      h("p", {}, `The contact is ${lengthText(stop.distance_mm, units, 3)} from the blade plane. `, leaves && h("strong", {}, leaves)),
      h("p", { class: "caution" }, "Touch stop, leaf and gauge block only when the blade stands; follow the machine's manual."),
      aside),
  );
}

function count(bench: Bench, by: number): void {
  setBlocksSawn(bench.batch, bench.setup.id, blocksSawn(bench.batch, bench.setup.id) + by);
  bench.turn({ step: by > 0 ? sawSteps(bench.setup).findIndex((s) => s.does === "cut") : bench.step });
}

function tally(bench: Bench): HTMLElement[] {
  const done = blocksSawn(bench.batch, bench.setup.id);
  return [
    button("\u2212", () => count(bench, -1), { "aria-label": "one block fewer", disabled: done === 0 }),
    h("p", { role: "status", title: "counted on this phone" }, h("b", {}, String(done)), ` of ${bench.setup.blocks} blocks`),
  ];
}

const HOLD = "Clamp the part between stop and blade, hold the stick beyond it too; unclamp when the blade stands.";

export function cutFace(bench: Bench, aside: HTMLElement): HTMLElement {
  const { setup } = bench;
  const { units } = current();
  const steps = sawSteps(setup);
  const step = steps[bench.step]!;
  const pencil = step.cut === null ? null : setup.cuts[step.cut - 1]!.pencil;
  const go = (by: number): void => bench.turn({ step: bench.step + by });
  return h(
    "section",
    { class: "face cut-face", "aria-label": "cut" },
    h("div", { class: "lead" },
      h("h2", {}, step.does === "cut" ? `Cut ${step.mark} of ${setup.cuts.length}` : "Test piece"),
      h("p", { class: "cut-facts" },
        pencil && h("span", {}, "Line ", h("b", {}, pencil)),
        h("span", {}, "Stop ", h("b", {}, String(step.stop)), ` ${lengthText(setup.stops[step.stop - 1]!.distance_mm, units, 2)}`)),
      bench.step === 0 && h("p", {}, setup.start_says),
      step.measure_mm !== null && h("p", {}, `This cut makes the face that is measured: ${lengthText(step.measure_mm, units, 2)} across flats.`)),
    h("div", { class: "side" },
      h("p", { class: "cut-says" }, step.says),
      h("p", { class: "caution" }, step.caution ? `${step.caution} If it cannot be held as the machine's manual asks, do not make the cut.` : HOLD),
      h("div", { class: "steps" },
        button("Previous cut", () => go(-1), { disabled: bench.step === 0 }),
        bench.step === steps.length - 1
          ? button("Block done", () => count(bench, 1), { class: "main" })
          : button("Next cut", () => go(1), { class: "main" })),
      h("div", { class: "tally" }, tally(bench), step.test !== null && step.measure_mm !== null &&
        button("Measure it", () => bench.turn({ face: "measure", stop: step.test!, widths: false }))),
      aside),
  );
}
