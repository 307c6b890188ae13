// wake-lock.ts - keeps the screen on while the phone leans against the fence, where the browser lets us (https only).

//   returns  its undo
export function keepAwake(): () => void {
  let lock: WakeLockSentinel | null = null;
  let over = false;
  const ask = async (): Promise<void> => {
    if (over || document.visibilityState !== "visible" || !("wakeLock" in navigator)) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      if (over) void lock.release();
    } catch {
      lock = null; // low battery, or not allowed: the phone's own setting decides
    }
  };
  const seen = (): void => void ask();
  document.addEventListener("visibilitychange", seen);
  void ask();
  return () => {
    over = true;
    document.removeEventListener("visibilitychange", seen);
    void lock?.release();
  };
}
