// band.ts - what the last readings say, in a word, a shape and a line: readable without colors.
import { h, show, svg } from "../dom";
import type { Light } from "../saw/model";

// "Stop" alone is what the stick rests against.
const WORDS: Record<Light, string> = { go: "Go on", watch: "Check", stop: "Stop sawing", unknown: "No readings yet" };

// Round for go, pointed for check, eight corners for stop.
function shapeOf(light: Light): SVGElement {
  const stroke = { fill: "none", stroke: "currentColor", "stroke-width": 7, "stroke-linejoin": "round", "stroke-linecap": "round" };
  const parts: Record<Light, SVGElement[]> = {
    go: [svg("circle", { cx: 50, cy: 50, r: 42, ...stroke }), svg("path", { d: "M30 52 L45 67 L71 35", ...stroke, "stroke-width": 10 })],
    watch: [svg("path", { d: "M50 10 L93 86 H7 Z", ...stroke }), svg("path", { d: "M50 38 V60 M50 73 V74", ...stroke, "stroke-width": 10 })],
    stop: [svg("path", { d: "M32 6 H68 L94 32 V68 L68 94 H32 L6 68 V32 Z", fill: "currentColor" }),
      svg("path", { d: "M28 50 H72", stroke: "var(--band-back)", "stroke-width": 14 })],
    unknown: [svg("circle", { cx: 50, cy: 50, r: 42, ...stroke, "stroke-dasharray": "14 14" })],
  };
  return svg("svg", { viewBox: "0 0 100 100", class: "shape", "aria-hidden": "true" }, parts[light]);
}

export interface Band {
  element: HTMLElement;
  set(light: Light, says: string, word?: string): void; // word: instead of the light's own
}

export function createBand(): Band {
  const element = h("div", { class: "band", role: "status", "aria-live": "polite", "aria-atomic": "true" });
  return {
    element,
    set: (light, says, word) => {
      element.dataset["light"] = light;
      const head = word ?? WORDS[light];
      const rest = says.replace(/^(Go on|Check|Stop|No readings yet)\. ?/, ""); // the word stands above it
      show(element, shapeOf(light), h("div", {}, h("strong", {}, head), h("span", { class: "says" }, rest)));
    },
  };
}
