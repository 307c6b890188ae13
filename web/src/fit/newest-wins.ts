// newest-wins.ts - while an answer is awaited, only the newest of the questions that come in meanwhile is kept.

// Asks `ask` with one call in flight at most; `take` gets every answer unless something newer was asked that is
// answered already. After `stop` nothing is asked or taken any more.
export function newestWins<Q, A>(ask: (question: Q) => Promise<A>, take: (answer: A, question: Q) => void): {
  put: (question: Q) => void;
  stop: () => void;
} {
  let busy = false;
  let waiting: { question: Q } | null = null;
  let stopped = false;
  const run = async (question: Q): Promise<void> => {
    busy = true;
    try {
      const answer = await ask(question);
      if (!stopped) take(answer, question);
    } finally {
      busy = false;
      const next = waiting;
      waiting = null;
      if (next && !stopped) void run(next.question).catch(() => undefined);
    }
  };
  return {
    put: (question) => {
      if (stopped) return;
      if (busy) waiting = { question };
      else void run(question).catch(() => undefined);
    },
    stop: () => {
      stopped = true;
      waiting = null;
    },
  };
}
