// pictures.ts - small still pictures of bodies: one hidden stage draws them all, one after the other.
import { h } from "../dom";
import { createStage, type MeshData, type Stage } from "../view/stage";
import { showingSide } from "./looks";
import type { Vec3 } from "./model";

export interface Picture {
  mesh: MeshData;
  color: number;
}

export interface Pictures {
  // A picture as wide as its place; empty where the browser draws nothing in space.
  //   words  what a screen reader says of it; "" when the text beside says it
  of(bodies: readonly Picture[], words: string, eye?: Vec3): HTMLElement;
  undo(): void;
}

const WIDE = 220;
const HIGH = 165;

// As near as the outline allows.
function fill(stage: Stage, bodies: readonly Picture[]): void {
  let most = 0;
  for (const { mesh } of bodies)
    for (let i = 0; i < mesh.xyz.length; i += 3) {
      const [x, y] = stage.place(mesh.xyz.slice(i, i + 3) as Vec3);
      most = Math.max(most, Math.abs((2 * x) / WIDE - 1), Math.abs((2 * y) / HIGH - 1));
    }
  if (most > 0) stage.camera.zoom = 0.95 / most;
  stage.camera.updateProjectionMatrix();
}

export function createPictures(): Pictures {
  const place = h("div", { class: "unseen", "aria-hidden": "true" });
  place.style.cssText = `position:fixed;left:-10000px;top:0;width:${WIDE}px;height:${HIGH}px`;
  document.body.append(place);
  let stage: Stage | null = null;
  try {
    stage = createStage(place, "");
    stage.canvas.tabIndex = -1;
  } catch {
    place.remove();
  }
  return {
    of: (bodies, words, eye) => {
      const sharp = Math.min(2, window.devicePixelRatio);
      const picture = h("canvas", { class: "picture", width: sharp * WIDE, height: sharp * HIGH });
      if (words) picture.setAttribute("role", "img"), picture.setAttribute("aria-label", words);
      else picture.setAttribute("aria-hidden", "true");
      if (!stage) return h("span", { class: "picture none", "aria-hidden": "true" });
      const shown = bodies.map((b) => stage!.add(b.mesh, { color: b.color }));
      stage.frame(eye ?? (bodies[0] ? showingSide(bodies[0].mesh) : undefined));
      fill(stage, bodies);
      stage.drawNow();
      const { width, height } = picture;
      const paper = picture.getContext("2d");
      if (paper) paper.imageSmoothingQuality = "high";
      paper?.drawImage(stage.canvas, 0, 0, width, height);
      for (const body of shown) body.remove();
      return picture;
    },
    undo: () => {
      stage?.dispose();
      place.remove();
    },
  };
}
