// spread.ts - how the blocks of a piece are drawn apart.
import type { Vec3 } from "./model";

const ROUNDS = 60;

// For each block a shift that opens every joint by one unit along its normal, or nearly so where joints work against
// each other. Blocks that share no joint are left as they are to one another. The middle of all stays.
export function blockShifts(blocks: number, joints: readonly { between: [number, number]; normal: Vec3 }[]): Vec3[] {
  const shifts = Array.from({ length: blocks }, (): Vec3 => [0, 0, 0]);
  const units = joints.map(({ normal: n }) => n.map((v) => v / Math.hypot(...n)) as Vec3);
  for (let round = 0; round < ROUNDS; ++round)
    joints.forEach(({ between: [a, b] }, j) => {
      const n = units[j]!;
      const [s, t] = [shifts[a]!, shifts[b]!];
      const open = n.reduce((sum, v, i) => sum + v * (t[i]! - s[i]!), 0);
      if (open >= 1) return;
      n.forEach((v, i) => {
        s[i]! -= (v * (1 - open)) / 2;
        t[i]! += (v * (1 - open)) / 2;
      });
    });
  return shifts;
}
