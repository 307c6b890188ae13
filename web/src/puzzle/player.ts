// player.ts - runs the take-apart by the clock: a step takes a while, then rests for a moment.
const STEP_SECONDS = 1.6;
const REST_SECONDS = 0.5;

export interface Player {
  playing(): boolean;
  // Goes on to `until` and ends there.
  play(from: number, until: number): void;
  stop(): void;
}

export function lessMotion(): boolean {
  return window.matchMedia("(prefers-reduced-motion: reduce)").matches;
}

// Where a step is after some share of its seconds: it starts and ends gently.
export function eased(share: number): number {
  return share * share * (3 - 2 * share);
}

//   at      called with the moment at every frame
//   ended   called once when it stands still again
export function createPlayer(at: (time: number) => void, ended: () => void): Player {
  let waiting = 0;
  const stop = (): void => {
    if (waiting === 0) return;
    cancelAnimationFrame(waiting);
    waiting = 0;
    ended();
  };
  const play = (from: number, until: number): void => {
    stop();
    const back = until < from;
    let base = from;
    let begun = 0;
    const tick = (now: number): void => {
      if (begun === 0) begun = now;
      const end = back ? Math.max(until, Math.ceil(base) - 1) : Math.min(until, Math.floor(base) + 1);
      const seconds = (now - begun) / 1000 / Math.abs(end - base);
      const share = Math.min(1, seconds / STEP_SECONDS);
      at(base + (end - base) * eased(share));
      if (share >= 1 && end === until) return stop();
      if (share >= 1 && seconds > STEP_SECONDS + REST_SECONDS) (base = end), (begun = now);
      waiting = requestAnimationFrame(tick);
    };
    if (lessMotion()) {
      at(until);
      return ended();
    }
    waiting = requestAnimationFrame(tick);
  };
  return { playing: () => waiting !== 0, play, stop };
}
