// stage.ts - a place for bodies in space: turned with mouse, finger or arrow keys, drawn only when something changed.
import {
  Color, DirectionalLight, Group, HemisphereLight, Mesh, OrthographicCamera, Plane, Raycaster, Scene, Vector2, Vector3,
  WebGLRenderer,
} from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
import { h } from "../dom";
import { ballAround, corners } from "./extent";
import { createSharpness, drawsSlowly } from "./sharpness";
import { createTurn, turned } from "./turning";
import { createBody, type Body, type BodyLook, type BodyPlace, type MeshData, type StageBody } from "./body";

export type { Body, BodyLook, MeshData } from "./body";

type Triple = readonly [number, number, number];

export interface Stage {
  canvas: HTMLCanvasElement;
  scene: Scene;
  camera: OrthographicCamera;
  add(data: MeshData, look: BodyLook): Body;
  // Moves the camera so that everything is seen; `from` is a direction towards the eye.
  frame(from?: Triple): void;
  // Looks at a ball from where the eye is, with the nearness that the user chose; for pictures that move.
  aim(middle: Triple, radius: number): void;
  // Turns the eye to that side within a moment, at once where less motion is wanted.
  turnTo(from: Triple): void;
  // Shows only what lies behind the plane n.x = d; null: everything.
  cut(plane: { normal: Triple; at: number } | null): void;
  // How far the bodies reach along a direction, as they stand now.
  reach(normal: Triple): [number, number];
  // The body under a point of the window, and which triangle of it.
  pick(x: number, y: number): { body: Body; triangle: number; point: Vector3 } | null;
  // Where a point in space is drawn: pixels from the upper left corner of the canvas.
  place(point: Triple): [number, number];
  draw(): void; // soon, once
  drawNow(): void; // for a picture that is copied
  onDrawn(then: () => void): () => void; // after each picture.   returns  its undo
  recolor(): void; // the colors that come from the page are read anew
  frameTimes(): number[]; // milliseconds of the last frames drawn
  memory(): { geometries: number; textures: number };
  dispose(): void;
}

const AWAY = 10; // the eye stands this many radii off
const ROOM = 1.08; // around what is shown

// Where the browser draws nothing in space: says so in `host`, and what to use instead.   returns  null then
export function tryStage(host: HTMLElement, label: string, instead: string): Stage | null {
  try {
    return createStage(host, label);
  } catch {
    host.classList.add("flat");
    host.replaceChildren(
      h("p", {}, "This browser draws nothing in space (WebGL is off or missing)."),
      h("p", {}, instead),
    );
    return null;
  }
}

function cssColor(host: Element, name: string, fallback: string): Color {
  return new Color(getComputedStyle(host).getPropertyValue(name).trim() || fallback);
}

function lights(scene: Scene, camera: OrthographicCamera): void {
  scene.add(new HemisphereLight(0xffffff, 0x8a8278, 1.6));
  const light = new DirectionalLight(0xffffff, 2.0);
  light.position.set(-1, 2, 3);
  camera.add(light);
  scene.add(camera);
}

//   label  what a screen reader says of the picture
export function createStage(host: HTMLElement, label: string): Stage {
  const renderer = new WebGLRenderer({ antialias: !drawsSlowly(), alpha: true });
  renderer.localClippingEnabled = true;
  const canvas = renderer.domElement;
  canvas.tabIndex = 0;
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", `${label}. Arrow keys turn it, plus and minus bring it nearer.`);
  host.append(canvas);

  const scene = new Scene();
  const world = new Group();
  const camera = new OrthographicCamera(-1, 1, 1, -1, 0.01, 1000);
  camera.up.set(0, 0, 1);
  camera.position.set(5, 3, 2);
  scene.add(world);
  lights(scene, camera);

  const controls = new OrbitControls(camera, canvas);
  controls.enableDamping = false;
  const bodies = new Map<Mesh, StageBody>();
  const times: number[] = [];
  const drawn = new Set<() => void>();
  let clipping: Plane[] = [];
  let radius = 1;
  let waiting = 0;
  let edge: Color | null = null;

  const render = (): void => {
    if (waiting) cancelAnimationFrame(waiting);
    waiting = 0;
    const begun = performance.now();
    renderer.render(scene, camera);
    times.push(performance.now() - begun);
    if (times.length > 240) times.shift();
    for (const then of drawn) then();
  };
  const drawNow = (): void => {
    sharpness.fine();
    render();
  };
  const drawMoving = (): void => {
    sharpness.moving();
    render();
  };
  const draw = (): void => {
    if (waiting === 0) waiting = requestAnimationFrame(drawMoving);
  };
  const sharpness = createSharpness((ratio) => renderer.setPixelRatio(ratio), drawNow);
  const setSpan = (): void => {
    const wide = host.clientWidth / Math.max(1, host.clientHeight);
    const half = radius * ROOM;
    camera.top = wide < 1 ? half / wide : half;
    camera.bottom = -camera.top;
    camera.right = camera.top * wide;
    camera.left = -camera.right;
    camera.far = radius * 4 * AWAY;
    camera.updateProjectionMatrix();
    draw();
  };
  const setSize = (): void => {
    const { clientWidth: w, clientHeight: ht } = host;
    if (w === 0 || ht === 0) return;
    renderer.setSize(w, ht);
    setSpan();
  };
  const stand = (middle: Vector3, span: number, eye: Vector3): void => {
    radius = span;
    controls.target.copy(middle);
    camera.position.copy(middle).addScaledVector(eye.normalize(), radius * AWAY);
    setSpan();
    controls.update();
  };
  const eyeNow = (): Vector3 => camera.position.clone().sub(controls.target);
  const turn = createTurn(eyeNow, (eye) => stand(controls.target.clone(), radius, eye));
  controls.addEventListener("start", turn.stop);
  const observer = new ResizeObserver(setSize);
  observer.observe(host);
  controls.addEventListener("change", draw);
  setSize();

  const onKey = (event: KeyboardEvent): void => {
    const to = event.ctrlKey || event.altKey || event.metaKey ? null : turned(eyeNow(), event.key);
    if (to) camera.position.copy(controls.target).add(to);
    else if (event.key === "+" || event.key === "=") camera.zoom *= 1.15;
    else if (event.key === "-") camera.zoom /= 1.15;
    else return;
    event.preventDefault();
    event.stopPropagation();
    camera.updateProjectionMatrix();
    controls.update();
    draw();
  };
  canvas.addEventListener("keydown", onKey);

  const at: BodyPlace = {
    world,
    projection: camera.projectionMatrix,
    edgeColor: () => (edge ??= cssColor(host, "--edge", "#000")),
    changed: draw,
    gone: (body) => bodies.delete(body.mesh),
  };
  const shown = (point: Vector3): boolean => clipping.every((p) => p.distanceToPoint(point) >= 0);

  return {
    canvas, scene, camera, draw, drawNow,
    add: (data, look) => {
      const body = createBody(data, look, clipping, at);
      bodies.set(body.mesh, body);
      return body;
    },
    frame: (from) => {
      const ball = ballAround(corners(bodies.values(), world));
      camera.zoom = 1;
      stand(ball.middle, ball.radius, from ? new Vector3(...from) : eyeNow());
    },
    aim: (middle, span) => stand(new Vector3(...middle), span, eyeNow()),
    turnTo: (from) => turn.to(new Vector3(...from)),
    cut: (plane) => {
      clipping = plane ? [new Plane(new Vector3(...plane.normal).negate().normalize(), plane.at)] : [];
      for (const body of bodies.values()) body.cut(clipping);
    },
    reach: (normal) => {
      const n = new Vector3(...normal).normalize();
      const along = corners(bodies.values(), world).map((p) => p.dot(n));
      return along.length === 0 ? [0, 0] : [Math.min(...along), Math.max(...along)];
    },
    pick: (x, y) => {
      const box = canvas.getBoundingClientRect();
      const ray = new Raycaster();
      const spot = new Vector2(((x - box.left) / box.width) * 2 - 1, 1 - ((y - box.top) / box.height) * 2);
      ray.setFromCamera(spot, camera);
      const hit = ray
        .intersectObjects([...bodies.keys()], false)
        .find((i) => i.object.parent?.visible !== false && shown(i.point));
      const body = hit && bodies.get(hit.object as Mesh);
      return hit && body ? { body, triangle: hit.faceIndex ?? 0, point: hit.point } : null;
    },
    place: (point) => {
      camera.updateMatrixWorld();
      const p = new Vector3(...point).project(camera);
      return [((p.x + 1) / 2) * canvas.clientWidth, ((1 - p.y) / 2) * canvas.clientHeight];
    },
    onDrawn: (then) => {
      drawn.add(then);
      return () => drawn.delete(then);
    },
    recolor: () => {
      edge = null;
      for (const body of bodies.values()) body.recolor();
    },
    frameTimes: () => [...times],
    memory: () => ({ geometries: renderer.info.memory.geometries, textures: renderer.info.memory.textures }),
    dispose: () => {
      for (const body of [...bodies.values()]) body.remove();
      if (waiting) cancelAnimationFrame(waiting);
      turn.stop();
      sharpness.dispose();
      drawn.clear();
      observer.disconnect();
      controls.dispose();
      canvas.removeEventListener("keydown", onKey);
      renderer.dispose();
      renderer.forceContextLoss();
      canvas.remove();
    },
  };
}
