// stage.ts - a place for bodies in space: turned with mouse, finger or arrow keys, drawn only when something changed.
import {
  BufferAttribute, BufferGeometry, Color, DirectionalLight, DoubleSide, Group, HemisphereLight, LineBasicMaterial,
  LineSegments, Mesh, MeshLambertMaterial, OrthographicCamera, Plane, Raycaster, Scene, Vector2, Vector3, WebGLRenderer,
} from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";

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
}

export interface Body {
  group: Group;
  mesh: Mesh<BufferGeometry, MeshLambertMaterial>;
  look(look: BodyLook): void;
  remove(): void;
}

export interface Stage {
  canvas: HTMLCanvasElement;
  scene: Scene;
  camera: OrthographicCamera;
  add(data: MeshData, look: BodyLook): Body;
  // Moves the camera so that everything is seen; `from` is a direction towards the eye.
  frame(from?: readonly [number, number, number]): void;
  // Shows only what lies behind the plane n.x = d; null: everything.
  cut(plane: { normal: readonly [number, number, number]; at: number } | null): void;
  // The body under a point of the canvas, and which triangle of it.
  pick(x: number, y: number): { body: Body; triangle: number; point: Vector3 } | null;
  draw(): void; // soon, once
  frameTimes(): number[]; // milliseconds of the last frames drawn
  memory(): { geometries: number; textures: number };
  dispose(): void;
}

const STEP = Math.PI / 24; // of an arrow key

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

function cssColor(host: Element, name: string, fallback: string): Color {
  return new Color(getComputedStyle(host).getPropertyValue(name).trim() || fallback);
}

// A direction's turn by an arrow key, about the vertical or about the eye's horizontal.
function turned(offset: Vector3, key: string): Vector3 | null {
  const up = new Vector3(0, 0, 1);
  const side = new Vector3().crossVectors(up, offset).normalize();
  if (key === "ArrowLeft") return offset.clone().applyAxisAngle(up, -STEP);
  if (key === "ArrowRight") return offset.clone().applyAxisAngle(up, STEP);
  const tilt = key === "ArrowUp" ? -STEP : key === "ArrowDown" ? STEP : 0;
  if (tilt === 0) return null;
  const to = offset.clone().applyAxisAngle(side, tilt);
  return Math.abs(to.clone().normalize().z) > 0.995 ? offset : to;
}

//   label  what a screen reader says of the picture
export function createStage(host: HTMLElement, label: string): Stage {
  const renderer = new WebGLRenderer({ antialias: true, alpha: true });
  renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
  renderer.localClippingEnabled = true;
  const canvas = renderer.domElement;
  canvas.tabIndex = 0;
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", `${label}. Arrow keys turn it, plus and minus bring it nearer.`);
  host.append(canvas);

  const scene = new Scene();
  const world = new Group();
  scene.add(world);
  const light = new DirectionalLight(0xffffff, 2.0);
  scene.add(new HemisphereLight(0xffffff, 0x8a8278, 1.6));
  const camera = new OrthographicCamera(-1, 1, 1, -1, 0.01, 1000);
  camera.up.set(0, 0, 1);
  camera.position.set(5, 3, 2);
  camera.add(light);
  light.position.set(-1, 2, 3);
  scene.add(camera);

  const controls = new OrbitControls(camera, canvas);
  controls.enableDamping = false;
  const bodies = new Map<Mesh, Body>();
  const times: number[] = [];
  let clipping: Plane[] = [];
  let radius = 1;
  let waiting = 0;

  const render = (): void => {
    waiting = 0;
    const begun = performance.now();
    renderer.render(scene, camera);
    times.push(performance.now() - begun);
    if (times.length > 240) times.shift();
  };
  const draw = (): void => {
    if (waiting === 0) waiting = requestAnimationFrame(render);
  };
  const setSpan = (): void => {
    const { clientWidth: w, clientHeight: ht } = host;
    if (w === 0 || ht === 0) return;
    renderer.setSize(w, ht);
    const wide = w / ht;
    const half = radius * 1.08;
    camera.top = wide < 1 ? half / wide : half;
    camera.bottom = -camera.top;
    camera.right = camera.top * wide;
    camera.left = -camera.right;
    camera.near = 0.01;
    camera.far = radius * 40;
    camera.updateProjectionMatrix();
    draw();
  };
  const observer = new ResizeObserver(setSpan);
  observer.observe(host);
  controls.addEventListener("change", draw);

  const onKey = (event: KeyboardEvent): void => {
    const to = turned(camera.position.clone().sub(controls.target), event.key);
    if (to) camera.position.copy(controls.target).add(to);
    else if (event.key === "+" || event.key === "=") camera.zoom *= 1.15;
    else if (event.key === "-") camera.zoom /= 1.15;
    else return;
    event.preventDefault();
    camera.updateProjectionMatrix();
    controls.update();
    draw();
  };
  canvas.addEventListener("keydown", onKey);

  const add = (data: MeshData, first: BodyLook): Body => {
    const { faces, lines } = geometryOf(data);
    const face = new MeshLambertMaterial({
      side: DoubleSide, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1, clippingPlanes: clipping,
    });
    const line = new LineBasicMaterial({ clippingPlanes: clipping });
    const mesh = new Mesh(faces, face);
    const edges = new LineSegments(lines, line);
    const group = new Group();
    group.add(mesh, edges);
    world.add(group);
    const body: Body = {
      group,
      mesh,
      look: (look) => {
        const opacity = look.opacity ?? 1;
        face.color.set(look.color);
        face.transparent = opacity < 1;
        face.opacity = opacity;
        face.depthWrite = opacity >= 1;
        face.needsUpdate = true;
        edges.visible = look.lines ?? true;
        line.color.copy(cssColor(host, "--edge", "#000"));
        draw();
      },
      remove: () => {
        world.remove(group);
        bodies.delete(mesh);
        for (const thing of [faces, lines, face, line]) thing.dispose();
        draw();
      },
    };
    bodies.set(mesh, body);
    body.look(first);
    return body;
  };

  return {
    canvas, scene, camera, add, draw,
    frame: (from) => {
      const points: Vector3[] = [];
      world.updateMatrixWorld(true);
      for (const mesh of bodies.keys()) {
        const at = mesh.geometry.getAttribute("position");
        for (let i = 0; i < at.count; ++i)
          points.push(new Vector3().fromBufferAttribute(at, i).applyMatrix4(mesh.matrixWorld));
      }
      const middle = new Vector3();
      const low = new Vector3(Infinity, Infinity, Infinity);
      const high = new Vector3(-Infinity, -Infinity, -Infinity);
      for (const p of points) low.min(p), high.max(p);
      if (points.length > 0) middle.addVectors(low, high).multiplyScalar(0.5);
      radius = Math.max(0.1, ...points.map((p) => p.distanceTo(middle)));
      const eye = from ? new Vector3(...from) : camera.position.clone().sub(controls.target);
      controls.target.copy(middle);
      camera.position.copy(middle).addScaledVector(eye.normalize(), radius * 10);
      camera.zoom = 1;
      setSpan();
      controls.update();
      draw();
    },
    cut: (plane) => {
      clipping = plane ? [new Plane(new Vector3(...plane.normal).negate().normalize(), plane.at)] : [];
      world.traverse((o) => {
        const material = (o as Mesh).material as MeshLambertMaterial | undefined;
        if (material) material.clippingPlanes = clipping;
      });
      draw();
    },
    pick: (x, y) => {
      const box = canvas.getBoundingClientRect();
      const at = new Vector2(((x - box.left) / box.width) * 2 - 1, 1 - ((y - box.top) / box.height) * 2);
      const ray = new Raycaster();
      ray.setFromCamera(at, camera);
      const hit = ray.intersectObjects([...bodies.keys()], false).find((i) => {
        return i.object.parent?.visible !== false && clipping.every((p) => p.distanceToPoint(i.point) >= 0);
      });
      const body = hit && bodies.get(hit.object as Mesh);
      return hit && body ? { body, triangle: hit.faceIndex ?? 0, point: hit.point } : null;
    },
    frameTimes: () => [...times],
    memory: () => ({ geometries: renderer.info.memory.geometries, textures: renderer.info.memory.textures }),
    dispose: () => {
      for (const body of [...bodies.values()]) body.remove();
      if (waiting) cancelAnimationFrame(waiting);
      observer.disconnect();
      controls.dispose();
      canvas.removeEventListener("keydown", onKey);
      renderer.dispose();
      renderer.forceContextLoss();
      canvas.remove();
    },
  };
}
