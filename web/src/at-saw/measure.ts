// measure.ts - the face on which a block is measured: the size wanted, the field, the pad.
import { choice, field, h } from "../dom";
import { current } from "../state";
import { lengthText, smallText } from "../units";
import type { Bench } from "./bench";
import { blockToMeasure } from "./enter";
import { bigNumber, button } from "./faces";
import { remember, remembered } from "./memory";
import type { ReadingField } from "./reading-field";

export interface MeasureParts {
  reading: ReadingField;
  pad: HTMLElement;
  line: HTMLElement; // what is on this phone
  message: HTMLElement; // about what was just typed, and how many readings wait
  whatToDo: () => void;
}

function whichSize(bench: Bench): HTMLElement {
  const one = (label: string, widths: boolean): HTMLElement =>
    button(label, () => bench.turn({ widths }), { "aria-pressed": String(bench.widths === widths) });
  return h("div", { class: "which-size", role: "group", "aria-label": "what is measured" },
    one("Across flats", false), one("Widths", true));
}

function woodChoice(bench: Bench): HTMLElement {
  const woods = Object.keys(bench.setup.needed);
  if (!woods.includes(remembered().wood)) remember({ wood: woods.length === 1 ? woods[0]! : "" });
  const options = [...(woods.length === 1 ? [] : [{ id: "", label: "wood?" }]), ...woods.map((w) => ({ id: w, label: w }))];
  const select = choice(options, remembered().wood, (wood) => {
    remember({ wood });
    bench.turn({});
  });
  select.setAttribute("aria-label", "wood of the block");
  return select;
}

export function blockInput(bench: Bench): HTMLInputElement {
  const next = bench.widths ? blockToMeasure(bench) : null;
  return h("input", {
    type: "text", inputmode: "numeric", class: "block-number", "aria-label": "number on the block", placeholder: "no.",
    value: next === null ? "" : String(next),
  });
}

function wanted(bench: Bench): HTMLElement[] {
  const { units } = current();
  if (bench.widths)
    return [bigNumber("wanted", lengthText(bench.data.stick_mm, units, 2)),
      h("p", { class: "test-says" }, "Across the stick's own sides, both pairs. Write the number on the block.")];
  const test = bench.setup.tests[bench.stop - 1];
  if (!test) return [];
  return [
    bigNumber("wanted across flats", lengthText(test.across_flats_mm, units, 2)),
    h("p", { class: "test-says" }, h("b", {}, `\u00b1 ${smallText(test.tolerance_mm, units, 2)}`),
      `; likely ${lengthText(test.expected_mm, units, 2)}. ${test.says[0]?.toUpperCase()}${test.says.slice(1)}.`),
  ];
}

function asked(bench: Bench, block: HTMLInputElement): string {
  if (!bench.widths) return "Measured";
  const width = remembered().first === null ? "width 1" : "width 2";
  return block.value === "" ? `Block, ${width}` : `Block ${block.value}, ${width}`;
}

//   block  the field for the number on the block
export function measureFace(bench: Bench, parts: MeasureParts, block: HTMLInputElement): HTMLElement {
  parts.reading.label(`${asked(bench, block)}, ${current().units === "mm" ? "mm" : "in"}`);
  const about = h("div", { class: "about" }, woodChoice(bench), bench.widths && block);
  const stick = h("input", { type: "text", value: remembered().stick, onchange: () => remember({ stick: stick.value.trim() }) });
  const by = h("input", { type: "text", value: remembered().by, onchange: () => remember({ by: by.value.trim() }) });
  return h(
    "section",
    { class: "face measure-face", "aria-label": "measure" },
    h("div", { class: "lead" }, wanted(bench)),
    h("div", { class: "side" }, bench.widths && about, parts.reading.element, parts.message, parts.pad),
    h("div", { class: "more" },
      h("div", { class: "deeds" }, parts.line, button("What to do", parts.whatToDo, { disabled: bench.widths })),
      !bench.widths && about,
      whichSize(bench),
      bench.widths && h("p", {}, `${bench.setup.widths_say[0]?.toUpperCase() ?? ""}${bench.setup.widths_say.slice(1)}`),
      h("details", {}, h("summary", {}, "Stick, and who measures"), field("Stick", stick), field("Measured by", by))),
  );
}
