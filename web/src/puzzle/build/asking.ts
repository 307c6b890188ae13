// asking.ts - one question at a time: a newer one ends the older, whose answer nobody waits for any more.
import { post, type Query, type Reply } from "../../api";

export interface Asker {
  //   returns  null when a newer question came between
  ask<T>(path: string, body: unknown, query: Query): Promise<Reply<T> | null>;
  end(): void;
}

export function createAsker(): Asker {
  let now = new AbortController();
  return {
    ask: async <T>(path: string, body: unknown, query: Query) => {
      now.abort();
      const mine = (now = new AbortController());
      const search = new URLSearchParams(Object.entries(query).filter(([, v]) => v).map(([k, v]) => [k, String(v)])).toString();
      try {
        const reply = await post<T>(search ? `${path}?${search}` : path, body, mine.signal);
        return mine.signal.aborted ? null : reply;
      } catch {
        return null;
      }
    },
    end: () => now.abort(),
  };
}
