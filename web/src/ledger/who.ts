// who.ts - who sits here: remembered on this device, never asked of the program.

const KEPT = "stickwright.by";
const KEPT_AT_THE_SAW = "stickwright.at-saw"; // where At the saw keeps the name, among other things

function atTheSaw(): string {
  try {
    const kept = JSON.parse(localStorage.getItem(KEPT_AT_THE_SAW) ?? "{}") as { by?: unknown };
    return typeof kept.by === "string" ? kept.by : "";
  } catch {
    return "";
  }
}

export function whoIsHere(): string {
  try {
    return localStorage.getItem(KEPT) ?? atTheSaw();
  } catch {
    return "";
  }
}

export function rememberWho(by: string): void {
  try {
    localStorage.setItem(KEPT, by.trim());
  } catch {
    // A browser that keeps nothing asks again.
  }
}
