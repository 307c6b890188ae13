// workpiece.ts - the piece on the stage while it is glued up: its blocks, the face that was picked, the block that would
// be glued on.
import { Vector3 } from "three";
import { tryStage, type Body, type MeshData, type Stage } from "../../view/stage";
import { h } from "../../dom";
import { normal, showingSide, woodColor } from "../looks";
import type { GlueReply, GluedFace, Vec3 } from "../model";

export interface FaceAt {
  block: number; // from 0
  face: string;
}

export interface Workpiece {
  stage: Stage | null;
  draw(glued: GlueReply | null): void;
  pick(face: FaceAt | null): void; // stays marked
  hint(face: FaceAt | null): void; // marked while pointed at
  turnTo(face: FaceAt): void; // so that it can be seen, if it cannot
  ghost(mesh: MeshData | null): void;
  recolor(): void;
  undo(): void;
}

const SEEN = 0.3; // a face turned further away than this is hard to see
const MARK = 0xc8772a;
const HINT = 0xe3b07c;
const GHOST = 0xf0d9ae;
const BLOCK = woodColor(null, undefined);

function outward(polygon: readonly Vec3[]): Vec3 {
  return normal(polygon[0]!, polygon[1]!, polygon[2]!);
}

// A face is flat and convex: it is drawn as a fan.
export function faceMesh(polygon: readonly Vec3[]): MeshData {
  const tri: number[] = [];
  const edges: number[] = [];
  polygon.forEach((_, i) => {
    edges.push(i, (i + 1) % polygon.length);
    if (i > 1) tri.push(0, i - 1, i);
  });
  return { xyz: polygon.flat(), tri, edges };
}

// The face of a block that a triangle of its mesh lies in: the one that faces the same way.
export function faceOfTriangle(faces: readonly GluedFace[], mesh: MeshData, triangle: number): GluedFace | null {
  const at = (k: number): Vec3 => {
    const i = 3 * mesh.tri[3 * triangle + k]!;
    return [mesh.xyz[i]!, mesh.xyz[i + 1]!, mesh.xyz[i + 2]!];
  };
  const n = normal(at(0), at(1), at(2));
  const along = (f: GluedFace): number => {
    const m = outward(f.polygon);
    return (n[0] * m[0] + n[1] * m[1] + n[2] * m[2]) / Math.hypot(...n) / Math.hypot(...m);
  };
  return faces.find((f) => along(f) > 0.999) ?? null;
}

//   picked  a free face was clicked or tapped
export function createWorkpiece(host: HTMLElement, picked: (face: FaceAt) => void): Workpiece {
  const box = h("div", { class: "stage" });
  host.append(box);
  const stage = tryStage(box, "The piece that is built", "Its faces and the ways to glue are listed here.");
  let now: GlueReply | null = null;
  let blocks: Body[] = [];
  let marked: FaceAt | null = null;
  let mark: Body | null = null;
  let hinted: Body | null = null;
  let ghost: Body | null = null;

  const faceAt = (at: FaceAt | null): GluedFace | undefined =>
    at ? now?.blocks[at.block]?.faces.find((f) => f.face === at.face) : undefined;
  const faceBody = (at: FaceAt | null, color: number): Body | null => {
    const face = faceAt(at);
    return face && stage ? stage.add(faceMesh(face.polygon), { color, lit: 0.5, front: true }) : null;
  };
  const pick = (at: FaceAt | null): void => {
    mark?.remove();
    marked = at;
    mark = faceBody(at, MARK);
  };
  const hint = (at: FaceAt | null): void => {
    hinted?.remove();
    const same = at && marked && at.block === marked.block && at.face === marked.face;
    hinted = same ? null : faceBody(at, HINT);
  };
  const turnTo = (at: FaceAt): void => {
    const face = faceAt(at);
    if (!stage || !now || !face) return;
    const n = new Vector3(...outward(face.polygon)).normalize();
    const eye = stage.camera.getWorldDirection(new Vector3()).negate();
    if (eye.dot(n) < SEEN) stage.turnTo(showingSide(now.mesh, n.toArray()));
  };
  const under = (event: PointerEvent): FaceAt | null => {
    const hit = stage?.pick(event.clientX, event.clientY);
    const block = hit ? blocks.indexOf(hit.body) : -1;
    const body = now?.blocks[block];
    const face = hit && body ? faceOfTriangle(body.faces, body.mesh, hit.triangle) : null;
    return face?.free ? { block, face: face.face } : null;
  };

  let down: [number, number] | null = null;
  const onDown = (e: PointerEvent): void => void (down = [e.clientX, e.clientY]);
  const onMove = (e: PointerEvent): void => {
    if (e.buttons === 0 && e.pointerType === "mouse") hint(under(e));
  };
  const onUp = (e: PointerEvent): void => {
    const still = down && Math.hypot(e.clientX - down[0], e.clientY - down[1]) < 6;
    down = null;
    hint(null);
    ghost?.remove();
    ghost = null;
    const at = still ? under(e) : null; // a turn of the piece picks nothing
    if (at) picked(at);
  };
  const onLeave = (): void => hint(null);
  stage?.canvas.addEventListener("pointerdown", onDown);
  stage?.canvas.addEventListener("pointermove", onMove);
  stage?.canvas.addEventListener("pointerup", onUp);
  stage?.canvas.addEventListener("pointerleave", onLeave);

  const clear = (): void => {
    for (const body of [...blocks, mark, hinted, ghost]) body?.remove();
    blocks = [];
    mark = hinted = ghost = null;
  };
  return {
    stage,
    draw: (glued) => {
      const before = blocks.length;
      clear();
      now = glued;
      if (!stage) return;
      blocks = (glued?.blocks ?? []).map((b) => stage.add(b.mesh, { color: BLOCK }));
      if (blocks.length !== before) stage.frame(before === 0 && glued ? showingSide(glued.mesh) : undefined);
      pick(marked);
    },
    pick,
    hint,
    turnTo,
    ghost: (mesh) => {
      ghost?.remove();
      ghost = mesh && stage ? stage.add(mesh, { color: GHOST, opacity: 0.6 }) : null;
    },
    recolor: () => stage?.recolor(),
    undo: () => {
      clear();
      stage?.dispose();
    },
  };
}
