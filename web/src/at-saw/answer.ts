// answer.ts - what the ledger says to readings. docs/plan-json.md, record; docs/api.yaml.
import { post, type Reply } from "../api";
import type { Light } from "../saw/model";
import type { Entry } from "./entry";

export interface Stored {
  id: number;
  key: string | null;
  was_there?: boolean;
  value_mm: number;
  block: number | null;
  at: string;
}

// Besides it has the keys of a place, or `widths` with one for each pair of sides.
export interface Recorded {
  stored?: Stored[];
  refused?: { key: string; code: string; say: string }[];
  says?: string;
  light?: Light;
}

// All of them belong to one place.
export function askRecord(group: readonly Entry[]): Promise<Reply<Recorded>> {
  const { batch, setup, stop, wood, stick, by } = group[0]!;
  return post<Recorded>("/api/record", {
    batch, setup, wood, stick, by,
    ...(stop === 0 ? { width: true } : { stop }),
    readings: group.map((e) => ({
      key: e.key,
      value: e.value,
      ...(e.value_2 ? { value_2: e.value_2 } : {}),
      ...(e.block !== null ? { block: e.block } : {}),
      taken_at: e.taken_at,
    })),
  });
}

export function askWithdrawal(e: Entry): Promise<Reply<Recorded>> {
  return post<Recorded>("/api/record/change", {
    batch: e.batch, id: e.withdraws, value: null, by: e.by, note: "undone at the saw",
  });
}
