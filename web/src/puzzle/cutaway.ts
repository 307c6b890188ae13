// cutaway.ts - looks into the closed puzzle: everything before a plane is left out.
import { choice, h } from "../dom";
import type { Stage } from "../view/stage";
import type { Vec3 } from "./model";

const AXES: { id: string; label: string; normal: Vec3 }[] = [
  { id: "x", label: "from +x", normal: [1, 0, 0] },
  { id: "y", label: "from +y", normal: [0, 1, 0] },
  { id: "z", label: "from above", normal: [0, 0, 1] },
  { id: "xy", label: "across a corner", normal: [1, 1, 0] },
];

const PARTS = 100; // of the slider

export function cutaway(stage: Stage): HTMLElement {
  let axis = AXES[0]!;
  let reach: [number, number] = [0, 0];
  const slider = h("input", { type: "range", min: 0, max: PARTS, value: "0", "aria-label": "how deep it is cut open" });
  const apply = (): void => {
    const depth = Number(slider.value) / PARTS;
    slider.setAttribute("aria-valuetext", depth === 0 ? "closed" : `${Math.round(depth * 100)} percent cut away`);
    if (depth === 0) stage.cut(null);
    else stage.cut({ normal: axis.normal, at: reach[1] + (reach[0] - reach[1]) * depth });
  };
  const measure = (): void => {
    reach = stage.reach(axis.normal);
    apply();
  };
  slider.addEventListener("input", apply);
  slider.addEventListener("pointerdown", measure);
  slider.addEventListener("focus", measure);
  const axes = choice(AXES, axis.id, (id) => {
    axis = AXES.find((a) => a.id === id)!;
    measure();
  });
  axes.setAttribute("aria-label", "where it is cut open from");
  return h("div", { class: "cutaway" }, h("span", {}, "Cut open"), axes, slider);
}
