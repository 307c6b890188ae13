// sender.ts - takes the entries of this phone to the ledger, in order, again and again until it has answered.
import type { Problem, Reply } from "../api";
import { askRecord, askWithdrawal, type Recorded } from "./answer";
import { samePlace, type Entry } from "./entry";
import { add, drop, find, forgetUndone, isUndone, onOtherTab, put, tidy, waiting } from "./queue";

const FIRST_WAIT_MS = 1000;
const LONGEST_WAIT_MS = 30_000;
const AT_ONCE = 20; // readings in one call

export type Trouble = "none" | "no answer" | "not paired";

export interface SenderState {
  sending: boolean;
  trouble: Trouble;
  problem: Problem | null;
}

export interface Sender {
  state(): Readonly<SenderState>;
  kick(): void; // something new to send
  wake(): void; // perhaps it goes better now: paired, back on the network, looked at again
  stop(): void;
}

export interface SenderEars {
  changed: () => void;
  answered: (answer: Recorded, entry: Entry) => void;
}

// Statuses after which the same call may be answered otherwise.
function passes(status: number): boolean {
  return status === 0 || status === 401 || status === 408 || status === 429 || status >= 500;
}

function nextGroup(): Entry[] {
  const all = waiting().filter((e) => e.held === null);
  const first = all[0];
  if (!first) return [];
  const end = all.findIndex((e, i) => i > 0 && !samePlace(first, e));
  return all.slice(0, Math.min(end < 0 ? all.length : end, AT_ONCE));
}

function settleStored(e: Entry, ids: number[]): void {
  if (isUndone(e.key)) {
    // Undone while it was on its way: the ledger has it now, and is to withdraw it.
    for (const id of ids) add({ batch: e.batch, setup: e.setup, stop: e.stop, value: e.value, by: e.by, withdraws: id });
    drop(e.key);
    forgetUndone(e.key);
  } else {
    put({ ...e, ids, held: null });
  }
}

function settleRefused(e: Entry, say: string, whole: boolean): void {
  // Undone, and the whole call refused: whether the ledger has it is not known yet, so it is asked again later.
  if (whole || !isUndone(e.key)) return put({ ...e, held: { say, whole } });
  drop(e.key);
  forgetUndone(e.key);
}

function idsOf(e: Entry, answer: Recorded): number[] {
  const own = (key: string | null): boolean => key === e.key || (key ?? "").startsWith(`${e.key}/`);
  return (answer.stored ?? []).filter((s) => own(s.key)).map((s) => s.id);
}

// Of every entry sent what the answer says about it. One that it does not name stays on the phone.
function settle(sent: readonly Entry[], answer: Recorded): void {
  for (const one of sent) {
    const e = find(one.key) ?? (isUndone(one.key) ? one : null);
    if (!e) continue;
    const ids = idsOf(e, answer);
    const refused = answer.refused?.find((r) => r.key === e.key);
    if (ids.length > 0) settleStored(e, ids);
    else if (refused) settleRefused(e, refused.say, false);
    else settleRefused(e, "The program did not say what it made of this reading.", true);
  }
}

// A hotel's network may answer anything with a page of its own and status 200.
function isAnswer(value: Recorded | null): value is Recorded {
  return Array.isArray(value?.stored) || Array.isArray(value?.refused);
}
const NOT_OURS: Extract<Reply<Recorded>, { ok: false }> = {
  ok: false,
  status: 0,
  problem: { code: "no_key", where: "", excerpt: "", say: "Something answered that is not the program. Is the phone in the shop's network?" },
};

export function startSender(ears: SenderEars): Sender {
  const state: SenderState = { sending: false, trouble: "none", problem: null };
  let wait = FIRST_WAIT_MS;
  let timer = 0;
  let stopped = false;

  const fail = (reply: Extract<Reply<Recorded>, { ok: false }>): void => {
    state.trouble = reply.status === 401 ? "not paired" : "no answer";
    state.problem = reply.problem;
    if (reply.status === 401) return; // until the code was said
    timer = window.setTimeout(kick, wait);
    wait = Math.min(wait * 2, LONGEST_WAIT_MS);
  };

  const sendReadings = async (group: Entry[]): Promise<Reply<Recorded>> => {
    for (const e of group) put({ ...e, tried: true });
    const reply = await askRecord(group);
    if (!reply.ok) return reply;
    if (!isAnswer(reply.value)) return NOT_OURS;
    settle(group, reply.value);
    return reply;
  };

  const sendWithdrawal = async (e: Entry): Promise<Reply<Recorded>> => {
    const reply = await askWithdrawal(e);
    if (reply.ok && reply.value === null) return NOT_OURS;
    if (reply.ok) drop(e.key);
    return reply;
  };

  // returns  whether to go on with the next
  const sendGroup = async (group: Entry[]): Promise<boolean> => {
    const first = group[0]!;
    const reply = first.withdraws === null ? await sendReadings(group) : await sendWithdrawal(first);
    if (reply.ok) {
      wait = FIRST_WAIT_MS;
      state.trouble = "none";
      state.problem = null;
      if (!stopped) ears.answered(reply.value, group.at(-1)!);
      return true;
    }
    if (passes(reply.status)) {
      fail(reply);
      return false;
    }
    for (const one of group) {
      const e = find(one.key);
      if (e) settleRefused(e, reply.problem.say, true);
    }
    return true;
  };

  const run = async (): Promise<void> => {
    state.sending = true;
    for (let group = nextGroup(); group.length > 0 && !stopped; group = nextGroup()) {
      ears.changed();
      if (!(await sendGroup(group))) break;
    }
    state.sending = false;
    tidy();
    if (!stopped) ears.changed();
  };

  const kick = (): void => {
    window.clearTimeout(timer);
    if (state.sending || stopped || state.trouble === "not paired") return;
    void run();
  };

  const wake = (): void => {
    if (document.visibilityState === "hidden") return;
    for (const e of waiting()) if (e.held?.whole) put({ ...e, held: null });
    if (state.trouble === "not paired") state.trouble = "none";
    wait = FIRST_WAIT_MS;
    kick();
  };

  const undoTab = onOtherTab(ears.changed);
  window.addEventListener("online", wake);
  window.addEventListener("focus", wake);
  document.addEventListener("visibilitychange", wake);
  queueMicrotask(wake); // not before whoever starts it is ready to hear

  return {
    state: () => state,
    kick,
    wake,
    stop: () => {
      stopped = true;
      window.clearTimeout(timer);
      undoTab();
      window.removeEventListener("online", wake);
      window.removeEventListener("focus", wake);
      document.removeEventListener("visibilitychange", wake);
    },
  };
}
