// browser.ts - a real browser, and what every test holds it to: no request leaves the machine, nothing goes wrong
// unseen, every reply is as docs/api.yaml says.
import { chromium, type Browser, type BrowserContextOptions, type Page } from "playwright-core";
import { afterAll, beforeAll, expect } from "vitest";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { replyProblems } from "./api-file";

// One set of flags for all pictures: another draws some pixels another way.
const FLAGS = [
  "--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
];

export const DESK: BrowserContextOptions = { viewport: { width: 1280, height: 800 } };
export const PHONE: BrowserContextOptions = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
export const PHONE_WIDE: BrowserContextOptions = { ...PHONE, viewport: { width: 844, height: 390 } };

export interface Watched {
  page: Page;
  foreign: string[]; // requests to anywhere else
  errors: string[]; // of the console and of scripts
  replies: string[]; // what is not as the API file says
  // Fails if anything of these was seen.
  sound(): void;
  close(): Promise<void>;
}

// For a test file: the browser it shares.
export function useBrowser(): () => Browser {
  let browser: Browser;
  beforeAll(async () => {
    browser = await chromium.launch({
      executablePath: process.env["STICKWRIGHT_CHROMIUM"] ?? "/usr/bin/chromium", headless: true, args: FLAGS,
    });
  });
  afterAll(async () => browser.close());
  return () => browser;
}

//   refused  problems that the test brings about: the browser logs every reply that is not 2xx
export async function openPage(
  browser: Browser, url: string, options: BrowserContextOptions = DESK, refused: readonly number[] = [],
): Promise<Watched> {
  const context = await browser.newContext({ reducedMotion: "reduce", ...options });
  const page = await context.newPage();
  const watched: Watched = {
    page, foreign: [], errors: [], replies: [],
    sound: () => {
      expect(watched.foreign, "requests that leave the machine").toEqual([]);
      expect(watched.errors, "errors in the browser").toEqual([]);
      expect(watched.replies, "replies that are not as docs/api.yaml says").toEqual([]);
    },
    close: async () => context.close(),
  };
  const own = new URL(url).origin;
  page.on("request", (r) => {
    if (!r.url().startsWith(own) && !/^(data|blob):/.test(r.url())) watched.foreign.push(r.url());
  });
  page.on("pageerror", (e) => watched.errors.push(String(e)));
  page.on("console", (m) => {
    if (m.type() !== "error") return;
    if (refused.some((s) => m.text().includes(`status of ${s}`)) || (refused.includes(0) && m.text().includes("ERR_")))
      return;
    watched.errors.push(`${m.text()} ${m.location().url}`);
  });
  page.on("response", async (r) => {
    const path = new URL(r.url()).pathname;
    if (!path.startsWith("/api/") || r.headers()["content-type"] !== "application/json") return;
    const body = await r.json().catch(() => undefined);
    if (body === undefined) return; // the page went away before it was read
    watched.replies.push(...replyProblems(r.request().method(), path, r.status(), body));
  });
  await page.goto(url);
  return watched;
}

const AXE = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

interface AxeWindow {
  axe: { run: (options: object) => Promise<{ violations: { id: string; help: string; nodes: { html: string }[] }[] }> };
}

// What axe finds wrong, one line each: rule, what it says, where.
export async function axeFindings(page: Page): Promise<string[]> {
  // Not by a script element: the page's own policy forbids scripts from elsewhere.
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(readFileSync(AXE, "utf8"));
  const found = await page.evaluate(async () =>
    (window as unknown as AxeWindow).axe.run({ resultTypes: ["violations"] }),
  );
  return found.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${v.help}: ${n.html.slice(0, 160)}`));
}
