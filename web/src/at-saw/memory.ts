// memory.ts - small things that this phone remembers about the work at the saw. Readings are not among them: queue.ts.

const KEPT = "stickwright.at-saw";

export interface Memory {
  wood: string;
  stick: string;
  by: string;
  draft: string; // typed, not entered yet
  first: string | null; // the first of two widths, entered; null: it is asked for
  blocks: Record<string, number>; // blocks sawn, by batch and set-up
  numbers: Record<string, number>; // the number on the block measured last, by batch, set-up and wood
}

const NOTHING: Memory = { wood: "", stick: "", by: "", draft: "", first: null, blocks: {}, numbers: {} };

export function remembered(): Memory {
  try {
    return { ...NOTHING, ...(JSON.parse(localStorage.getItem(KEPT) ?? "{}") as Partial<Memory>) };
  } catch {
    return { ...NOTHING };
  }
}

export function remember(part: Partial<Memory>): void {
  try {
    localStorage.setItem(KEPT, JSON.stringify({ ...remembered(), ...part }));
  } catch {
    // A phone that keeps nothing forgets these; of readings the entry field says so.
  }
}

export function blocksSawn(batch: string, setup: string): number {
  return remembered().blocks[`${batch} ${setup}`] ?? 0;
}

export function setBlocksSawn(batch: string, setup: string, count: number): void {
  const { blocks } = remembered();
  remember({ blocks: { ...blocks, [`${batch} ${setup}`]: Math.max(0, count) } });
}

function numberKey(batch: string, setup: string, wood: string): string {
  return [batch, setup, wood].join(" ");
}

// The number that the next block gets; null: this phone does not know what the last one was.
export function nextNumber(batch: string, setup: string, wood: string): number | null {
  const last = remembered().numbers[numberKey(batch, setup, wood)];
  return last === undefined ? null : last + 1;
}

export function setLastNumber(batch: string, setup: string, wood: string, last: number): void {
  remember({ numbers: { ...remembered().numbers, [numberKey(batch, setup, wood)]: last } });
}
