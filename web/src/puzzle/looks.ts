// looks.ts - how pieces are told apart: browns by the lightness of the wood, each piece of a wood a shade of its own.
import { Color, SRGBColorSpace } from "three";
import type { MeshData } from "../view/stage";
import type { PieceBody, Vec3 } from "./model";

const PLAIN = 0.56; // lightness where no wood is known

// Hue and lightness are ours; a wood's lightness comes from the program and keeps its place among the others. The more
// pieces there are of a wood, the further their shades go apart.
export function shade(lightness: number, place: number, of: number): number {
  const apart = Math.min(1, 0.4 + of / 10);
  const t = of < 2 ? 0 : apart * (place / (of - 1) - 0.5);
  const turn = of < 2 ? 0 : apart * (((place * 2) % of) / (of - 1 || 1) - 0.5); // neighbors in the list differ most
  const light = Math.min(0.86, Math.max(0.17, 0.07 + 0.78 * lightness + 0.24 * t * (1 - Math.abs(lightness - 0.5))));
  return new Color().setHSL((31 + 16 * turn) / 360, 0.38 + 0.14 * turn, light, SRGBColorSpace).getHex();
}

export function woodColor(wood: string | null, lightness: Record<string, number> | undefined): number {
  return shade((wood && lightness?.[wood]) || PLAIN, 0, 1);
}

export function pieceColors(pieces: readonly PieceBody[], lightness: Record<string, number> | undefined): number[] {
  const wood = (p: PieceBody): string => p.woods[0] ?? "";
  return pieces.map((p, i) => {
    const alike = pieces.flatMap((q, k) => (wood(q) === wood(p) ? [k] : []));
    const reach = wood(p) ? lightness?.[wood(p)] : undefined;
    return shade(reach ?? PLAIN, alike.indexOf(i), alike.length);
  });
}

export function cssOf(color: number): string {
  return `#${color.toString(16).padStart(6, "0")}`;
}

// Aslant to every face that blocks have.
const SLANTS: Vec3[] = [[5, 3, 2], [3, 5, 2], [4, 2, 4.5], [2, 4, 4.5]];
const EYES: Vec3[] = [1, -1].flatMap((z) =>
  [1, -1].flatMap((y) => [1, -1].flatMap((x) => SLANTS.map((s): Vec3 => [x * s[0], y * s[1], z * s[2]]))),
);
const ABOVE = EYES.length / 2; // the first half looks down

function cosine(a: Vec3, b: Vec3): number {
  return (a[0] * b[0] + a[1] * b[1] + a[2] * b[2]) / (Math.hypot(...a) * Math.hypot(...b));
}

// Where to look from so that a body shows its shape: many of its faces, and none of them edge on.
//   face  outward normal of a face that has to be seen; null: any side, from above
export function showingSide(mesh: MeshData, face: Vec3 | null = null): Vec3 {
  const eyes = face ? EYES.filter((eye) => cosine(eye, face) > 0.5) : EYES.slice(0, ABOVE);
  const shown = (eye: Vec3): number => {
    let sum = 0;
    for (let t = 0; t < mesh.tri.length; t += 3) sum += facing(mesh, t, eye);
    return sum;
  };
  const sums = eyes.map(shown);
  return eyes[sums.indexOf(Math.max(...sums))] ?? EYES[0]!;
}

// The area of a triangle, weighed by how much it faces the eye; the root makes two faces seen aslant count for more
// than one seen squarely.
function facing(mesh: MeshData, t: number, eye: Vec3): number {
  const at = (k: number): Vec3 => mesh.xyz.slice(3 * mesh.tri[t + k]!, 3 * mesh.tri[t + k]! + 3) as Vec3;
  const n = normal(at(0), at(1), at(2));
  const towards = cosine(n, eye);
  return towards > 0 ? Math.hypot(...n) * Math.sqrt(towards) : 0;
}

// Not of unit length; along the outward side of a counter-clockwise triangle.
export function normal(a: Vec3, b: Vec3, c: Vec3): Vec3 {
  const [p, q, r] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [s, t, u] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  return [q * u - r * t, r * s - p * u, p * t - q * s];
}
