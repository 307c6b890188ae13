// body.ts - one body of the stage: faces, edges, and what its inside looks like when it is cut open.
import {
  BufferAttribute, BufferGeometry, Color, DoubleSide, FrontSide, Group, LineBasicMaterial, LineSegments, Mesh,
  MeshLambertMaterial, type Matrix4, type Plane,
} from "three";
import { createCap } from "./cap";

// As the program sends it: corners in one list, triangles counter-clockwise from outside, lines where faces meet.
export interface MeshData {
  xyz: number[];
  tri: number[];
  edges: number[];
}

export interface BodyLook {
  color: number;
  opacity?: number; // 1: solid
  lines?: boolean; // edges drawn; true if left out
  lit?: number; // 0 to 1: shines by itself, to point it out; 0 if left out
  front?: boolean; // lies a hair before what it coincides with; false if left out
}

export interface Body {
  group: Group;
  mesh: Mesh<BufferGeometry, MeshLambertMaterial>;
  look(look: BodyLook): void;
  remove(): void;
}

export interface StageBody extends Body {
  cut(planes: Plane[]): void;
  recolor(): void;
}

export interface BodyPlace {
  world: Group;
  projection: Matrix4; // of the camera
  edgeColor(): Color;
  changed(): void;
  gone(body: StageBody): void;
}

function geometryOf(data: MeshData): { faces: BufferGeometry; lines: BufferGeometry } {
  const points = new BufferAttribute(new Float32Array(data.xyz), 3);
  const welded = new BufferGeometry();
  welded.setAttribute("position", points);
  welded.setIndex(data.tri);
  const faces = welded.toNonIndexed(); // flat shading: each triangle has its own normals
  faces.computeVertexNormals();
  welded.dispose();
  const lines = new BufferGeometry();
  lines.setAttribute("position", points);
  lines.setIndex(data.edges);
  return { faces, lines };
}

export function createBody(data: MeshData, first: BodyLook, planes: Plane[], at: BodyPlace): StageBody {
  const { faces, lines } = geometryOf(data);
  const face = new MeshLambertMaterial({ side: DoubleSide, polygonOffset: true, clippingPlanes: planes });
  const line = new LineBasicMaterial({ clippingPlanes: planes });
  const cap = createCap(at.projection, planes);
  const mesh = new Mesh(faces, face);
  const inside = new Mesh(faces, cap.material);
  const edges = new LineSegments(lines, line);
  const group = new Group();
  group.add(mesh, inside, edges);
  at.world.add(group);
  let now = first;
  const dress = (): void => {
    const opacity = now.opacity ?? 1;
    face.color.set(now.color);
    face.emissive.set(now.color).multiplyScalar(0.6 * (now.lit ?? 0));
    face.transparent = opacity < 1;
    face.opacity = opacity;
    face.depthWrite = opacity >= 1;
    face.polygonOffsetFactor = face.polygonOffsetUnits = now.front ? -2 : 1;
    face.side = opacity < 1 || face.clippingPlanes?.length ? FrontSide : DoubleSide;
    inside.visible = opacity >= 1 && (face.clippingPlanes?.length ?? 0) > 0;
    cap.color(face.color);
    edges.visible = now.lines ?? true;
    line.transparent = opacity < 1;
    line.opacity = Math.min(1, opacity * 1.6);
    line.color.copy(at.edgeColor());
    at.changed();
  };
  const body: StageBody = {
    group,
    mesh,
    look: (look) => {
      now = look;
      dress();
    },
    cut: (to) => {
      face.clippingPlanes = line.clippingPlanes = cap.material.clippingPlanes = to;
      dress();
    },
    recolor: dress,
    remove: () => {
      at.world.remove(group);
      at.gone(body);
      for (const thing of [faces, lines, face, line, cap.material]) thing.dispose();
      at.changed();
    },
  };
  dress();
  return body;
}
