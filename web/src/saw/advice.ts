// advice.ts - the answer about a measured test block.
import { h, table } from "../dom";
import { current } from "../state";
import { smallText } from "../units";
import type { Correction } from "./model";
import { adviceHead, sumOf } from "./words";

export function adviceSheet(c: Correction): HTMLElement {
  const { units } = current();
  const causes = c.causes.filter((one) => one.mm !== 0);
  return h("div", { class: c.advice === "leave" ? "good" : "warning" },
    h("p", { class: "figure" }, adviceHead(c)),
    h("p", {}, c.says),
    c.stack_mm && h("p", {}, "The new stack: ", h("b", {}, sumOf(c.stack_mm))),
    h("p", {}, `${c.readings === 1 ? "One reading" : `${c.readings} readings, mean`} ${smallText(c.mean_mm, units)}; `,
      `the stop stands ${smallText(c.error_mm, units)} off, u = ${smallText(c.u_mm, units)}`,
      c.advice === "shim" && `; ${smallText(c.remaining_mm, units)} remain`, "."),
    c.more_readings !== null && h("p", {}, `${c.more_readings} readings in all would decide.`),
    causes.length > 0 && table("Likeliest share of each cause in the difference from what was expected", [
      { head: "Cause", cell: (one) => one.cause },
      { head: "Share", number: true, cell: (one) => smallText(one.mm, units) },
    ], causes),
    c.report && h("details", {}, h("summary", {}, "In full"), h("pre", {}, c.report)));
}
