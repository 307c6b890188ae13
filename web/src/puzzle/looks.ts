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
  const light = Math.min(0.86, Math.max(0.17, 0.1 + 0.7 * lightness + 0.24 * t * (1 - Math.abs(lightness - 0.5))));
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

// Where to look from so that a body shows most of itself: of some directions the one with the largest outline.
export function showingSide(mesh: MeshData): Vec3 {
  const eyes: Vec3[] = [
    [5, 3, 2], [3, 5, 2], [-3, 5, 2], [-5, 3, 2], [5, -2, 3], [2, 5, 3.5], [-2, 5, 3.5], [5, 2, 3.5], [4, 4, 1.5], [4, -4, 1.5],
    [2, 3, 6], [-2, 3, 6],
  ];
  const area = (eye: Vec3): number => {
    let sum = 0;
    for (let t = 0; t < mesh.tri.length; t += 3) sum += Math.abs(facing(mesh, t, eye));
    return sum / Math.hypot(...eye);
  };
  return eyes.reduce((best, eye) => (area(eye) > area(best) * 1.001 ? eye : best));
}

function facing(mesh: MeshData, t: number, eye: Vec3): number {
  const at = (k: number): Vec3 => mesh.xyz.slice(3 * mesh.tri[t + k]!, 3 * mesh.tri[t + k]! + 3) as Vec3;
  const [a, b, c] = [at(0), at(1), at(2)];
  const n = normal(a, b, c);
  return n[0] * eye[0] + n[1] * eye[1] + n[2] * eye[2];
}

// Not of unit length; along the outward side of a counter-clockwise triangle.
export function normal(a: Vec3, b: Vec3, c: Vec3): Vec3 {
  const [p, q, r] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [s, t, u] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  return [q * u - r * t, r * s - p * u, p * t - q * s];
}
