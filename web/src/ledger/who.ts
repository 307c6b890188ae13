// who.ts - who works here: one name for the desk and the saw, remembered on this device.
import { remember, remembered } from "../at-saw/memory";

export function whoIsHere(): string {
  return remembered().by;
}

export function rememberWho(by: string): void {
  remember({ by: by.trim() });
}
