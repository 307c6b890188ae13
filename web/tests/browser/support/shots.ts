// shots.ts - pictures of the page against pictures that were looked at. With STICKWRIGHT_SHOTS=write they are made anew.
import type { Page } from "playwright-core";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import pixelmatch from "pixelmatch";
import { PNG } from "pngjs";

const KEPT = join(import.meta.dirname, "../shots");
const DIFFERENT = join(import.meta.dirname, "../../../../build/page-shots"); // what was seen instead

// Of all pixels: letters and slanted lines are drawn a little differently from one version of the browser to the next.
const TOLERANCE = 0.01;

//   returns  "" when the page looks as it was kept; else what differs
export async function shotDiffers(page: Page, name: string): Promise<string> {
  const seen = await page.screenshot({ animations: "disabled", caret: "hide" });
  const file = join(KEPT, `${name}.png`);
  if (process.env["STICKWRIGHT_SHOTS"] === "write") {
    mkdirSync(KEPT, { recursive: true });
    writeFileSync(file, seen);
    return "";
  }
  if (!existsSync(file)) return `there is no kept picture ${file}`;
  const a = PNG.sync.read(readFileSync(file));
  const b = PNG.sync.read(seen);
  if (a.width !== b.width || a.height !== b.height)
    return `${name}: ${b.width} x ${b.height} pixels instead of ${a.width} x ${a.height}`;
  const difference = new PNG({ width: a.width, height: a.height });
  const count = pixelmatch(a.data, b.data, difference.data, a.width, a.height, { threshold: 0.15 });
  const share = count / (a.width * a.height);
  if (share <= TOLERANCE) return "";
  mkdirSync(DIFFERENT, { recursive: true });
  writeFileSync(join(DIFFERENT, `${name}.png`), seen);
  writeFileSync(join(DIFFERENT, `${name}-difference.png`), PNG.sync.write(difference));
  return `${name}: ${(100 * share).toFixed(2)} % of the pixels differ; see build/page-shots`;
}
