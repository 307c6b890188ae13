// extent.ts - how much room bodies take, as they stand.
import { Vector3, type Group } from "three";
import type { StageBody } from "./body";

export function corners(bodies: Iterable<StageBody>, world: Group): Vector3[] {
  world.updateMatrixWorld(true);
  const points: Vector3[] = [];
  for (const { mesh } of bodies) {
    const at = mesh.geometry.getAttribute("position");
    for (let i = 0; i < at.count; ++i)
      points.push(new Vector3().fromBufferAttribute(at, i).applyMatrix4(mesh.matrixWorld));
  }
  return points;
}

export function ballAround(points: Vector3[]): { middle: Vector3; radius: number } {
  const middle = new Vector3();
  const low = new Vector3(Infinity, Infinity, Infinity);
  const high = new Vector3(-Infinity, -Infinity, -Infinity);
  for (const p of points) low.min(p), high.max(p);
  if (points.length > 0) middle.addVectors(low, high).multiplyScalar(0.5);
  return { middle, radius: points.reduce((r, p) => Math.max(r, p.distanceTo(middle)), 0.1) };
}
