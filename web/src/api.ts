// api.ts - the only place that asks the program. Every answer is a value or a problem that says what to do.

export interface Problem {
  code: string;
  where: string;
  say: string;
  excerpt: string;
}

export type Reply<T> = { ok: true; value: T } | { ok: false; problem: Problem; status: number };

export type Query = Record<string, string | number | boolean | null | undefined>;

// The code of a problem that is not the program's answer: it could not be reached.
export const NO_ANSWER = "no_answer";

function address(path: string, query?: Query): string {
  const search = new URLSearchParams();
  for (const [key, value] of Object.entries(query ?? {}))
    if (value !== null && value !== undefined && value !== "") search.set(key, String(value));
  const text = search.toString();
  return text ? `${path}?${text}` : path;
}

function noAnswer(): Reply<never> {
  return {
    ok: false,
    status: 0,
    problem: {
      code: NO_ANSWER,
      where: "",
      say: "The program does not answer. Is it still running? Start it with: stickwright serve",
      excerpt: "",
    },
  };
}

async function readReply<T>(response: Response): Promise<Reply<T>> {
  const body: unknown = response.status === 204 ? null : await response.json().catch(() => null);
  if (response.ok) return { ok: true, value: body as T };
  const p = (body ?? {}) as Partial<Problem>;
  return {
    ok: false,
    status: response.status,
    problem: {
      code: p.code ?? `status_${response.status}`,
      where: p.where ?? "",
      say: p.say ?? `The program answered with status ${response.status}.`,
      excerpt: p.excerpt ?? "",
    },
  };
}

async function ask<T>(path: string, init: RequestInit): Promise<Reply<T>> {
  try {
    return await readReply<T>(await fetch(path, { ...init, credentials: "same-origin" }));
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error;
    return noAnswer();
  }
}

export function get<T>(path: string, query?: Query, signal?: AbortSignal): Promise<Reply<T>> {
  return ask<T>(address(path, query), signal ? { signal } : {});
}

export function post<T>(path: string, body: unknown, signal?: AbortSignal): Promise<Reply<T>> {
  const init: RequestInit = {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
  };
  return ask<T>(path, signal ? { ...init, signal } : init);
}

export function remove<T>(path: string): Promise<Reply<T>> {
  return ask<T>(path, { method: "DELETE", headers: { "Content-Type": "application/json" } });
}

// Where a file can be had as a download or shown in a tab.
export function link(path: string, query?: Query): string {
  return address(path, query);
}

export interface JobProgress {
  share: number;
  words: string;
  seconds_left: number | null;
}

export interface JobDone<T> {
  state: "done" | "cancelled" | "failed";
  result?: T;
  problem?: Problem;
}

export interface JobListener<T, I> {
  progress?: (p: JobProgress) => void;
  item?: (item: I) => void;
  done: (d: JobDone<T>) => void;
}

// Listens to a job until it is done; comes back by itself when the line drops.   returns  its undo
export function follow<T, I = unknown>(job: string, listener: JobListener<T, I>): () => void {
  const source = new EventSource(`/api/jobs/${encodeURIComponent(job)}/events`);
  const read = (event: Event): unknown => JSON.parse((event as MessageEvent<string>).data);
  source.addEventListener("progress", (e) => listener.progress?.(read(e) as JobProgress));
  source.addEventListener("item", (e) => listener.item?.(read(e) as I));
  source.addEventListener("done", (e) => {
    source.close();
    listener.done(read(e) as JobDone<T>);
  });
  source.addEventListener("error", () => {
    // CONNECTING: the browser tries again by itself. CLOSED: the job is not known any more.
    if (source.readyState !== EventSource.CLOSED) return;
    listener.done({ state: "failed", problem: (noAnswer() as { problem: Problem }).problem });
  });
  return () => source.close();
}
