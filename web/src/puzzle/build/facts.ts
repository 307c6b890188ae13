// facts.ts - what the program says of the piece as it stands: cells left in the goal, doubts, joints.
import { h, show, table } from "../../dom";
import type { GlueReply } from "../model";
import { areaText, counted } from "../words";

function goalBar(glued: GlueReply): HTMLElement | false {
  const goal = glued.goal;
  if (!goal) return h("p", {}, `${counted(glued.cells, "cell")}${glued.handed ? "; its mirror image is another piece" : ""}.`);
  const share = (n: number): string => `${Math.max(0, Math.min(100, (100 * n) / goal.cells))}%`;
  const other = h("i", { class: "others" });
  const here = h("i", { class: goal.left < 0 ? "here over" : "here" });
  other.style.width = share(goal.others);
  here.style.width = share(goal.here);
  const say = goal.left < 0 ? `${counted(-goal.left, "cell")} too many` : goal.left === 0 ? "The goal is full" : `${counted(goal.left, "cell")} left`;
  return h(
    "div",
    { class: "goal" },
    h("p", {}, h("span", { class: "figure" }, say), ` of ${counted(goal.cells, "cell")}.`),
    h("div", { class: "goal-bar", "aria-hidden": "true" }, other, here),
    h("small", {}, `This piece with its copies: ${goal.here}. The other pieces: ${goal.others}. One of this piece: ${counted(glued.cells, "cell")}.`),
  );
}

function joints(glued: GlueReply): HTMLElement | false {
  if (glued.joints.length === 0) return false;
  return h("details", { class: "joints" }, h("summary", {}, `${counted(glued.joints.length, "glue joint")}`),
    table("Glue joints", [
      { head: "Blocks", cell: (j) => `${j.between[0] + 1} and ${j.between[1] + 1}` },
      { head: "Area", number: true, cell: (j) => areaText(j.area_mm2, j.area_units) },
      { head: "Holds", cell: (j) => h("span", { class: j.weak ? "doubt" : null }, j.says) },
    ], glued.joints));
}

export function drawFacts(host: HTMLElement, glued: GlueReply | null): void {
  const opened = host.querySelector("details")?.open === true;
  if (!glued) return show(host);
  show(
    host,
    goalBar(glued),
    glued.warnings.map((w) => h("p", { class: "warning" }, w.say)),
    joints(glued),
  );
  const details = host.querySelector("details");
  if (details) details.open = opened;
}
