// model.ts - readings, truings and leaves as they come over the wire. docs/plan-json.md, docs/ledger.md, docs/api.yaml.
import { get, post, type Query, type Reply } from "../api";
import type { Light } from "../saw/model";

export type { Light } from "../saw/model";

export interface Change {
  id: number;
  at: string;
  value_mm: number | null; // null: withdrawn
  by: string;
  note: string;
}

export interface Reading {
  id: number;
  value_mm: number | null;
  at: string;
  taken_at: string | null;
  block: number | null;
  stick: string;
  wood: string;
  instrument: string;
  by: string;
  entered: string;
  note: string;
  first_value_mm: number;
  changes: Change[];
}

export interface Signal {
  first: number; // places in `readings`, from 0
  last: number;
  says: string;
  means: string;
  check: string;
}

// What is read: a stop of a set-up, or a width of its blocks.
export interface Size {
  setup: string;
  stop: number | null;
  width: number | null;
}

export interface ReadSize extends Size {
  name: string;
  size: string; // "stop 1", "width 2"
  target_mm: number;
  tolerance_mm: number;
  says: string;
  light: Light;
  mean: number | null;
  sd: number | null;
  outside: number;
  limits: { center: number; lower: number; upper: number } | null;
  capability: { cp: number; cpk: number; u_cpk: number; enough: boolean } | null;
  signals: Signal[];
  readings: Reading[]; // those that count
  not_counted: Reading[];
  leaves: { id: number; at: string; thickness_mm: number }[];
}

export interface Readings {
  batch: string;
  batch_name: string;
  ledger: string | null;
  stops: ReadSize[];
  no_longer_planned: { setup: string; stop: number | null; width: number | null; readings: number }[];
}

export interface TruingDone {
  id: number;
  at: string;
  by: string;
  note: string;
  withdrawn: boolean;
  miter_deg: number | null;
  miter_u_deg: number | null;
  tilt_deg: number | null;
  tilt_u_deg: number | null;
  roll_deg: number | null;
  roll_u_deg: number | null;
  pitch_deg: number | null;
  pitch_u_deg: number | null;
}

export interface LeafDone {
  id: number;
  at: string;
  by: string;
  note: string;
  withdrawn: boolean;
  setup: string;
  stop: number;
  thickness_mm: number;
}

export interface Events {
  truings: TruingDone[];
  leaves: LeafDone[];
}

export interface Recorded {
  stored?: { id: number; key: string; was_there: boolean; value_mm: number; block: number | null }[];
  refused?: { key: string; code: string; say: string }[];
  changed?: { id: number; was_there: boolean; value_mm: number | null };
  says?: string;
  light?: Light;
}

export interface SetUpWoods {
  setups: { id: string; number: number; needed: Record<string, number> }[];
}

export function askReadings(batch: string, signal: AbortSignal): Promise<Reply<Readings>> {
  return get<Readings>("/api/readings", { batch }, signal);
}

export function askEvents(batch: string, signal: AbortSignal): Promise<Reply<Events>> {
  return get<Events>("/api/ledger/events", { batch }, signal);
}

//   value  with its unit; null withdraws the reading
export function askChange(batch: string, id: number, value: string | null, by: string, note: string): Promise<Reply<Recorded>> {
  return post<Recorded>("/api/record/change", { batch, id, value, by, note });
}

export interface SentReading {
  key: string;
  value: string;
  value_2?: string;
  block?: number;
}

export interface DeskEntry {
  setup: string;
  stop: number; // 0: widths
  wood: string;
  stick: string;
  by: string;
  instrument: string;
  note: string;
  readings: SentReading[];
}

export function askRecord(batch: string, entry: DeskEntry): Promise<Reply<Recorded>> {
  const { stop, ...rest } = entry;
  return post<Recorded>("/api/record", { batch, ...rest, ...(stop === 0 ? { width: true } : { stop }) });
}

export function sizeQuery(size: Partial<Size>): Query {
  return { setup: size.setup, stop: size.stop, width: size.width };
}

export function sameSize(a: Size, b: Size): boolean {
  return a.setup === b.setup && a.stop === b.stop && a.width === b.width;
}
