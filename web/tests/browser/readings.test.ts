// Twenty readings on a phone leaning against the fence, the power gone in the middle: all in the ledger, each once.
import { afterAll, beforeAll, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { openPage, PHONE, useBrowser } from "./support/browser";
import { startServer, type Server } from "./support/server";

interface Kept { id: number; value_mm: number }
interface Readings { stops: { setup: string; stop: number; readings: Kept[] }[] }

const browser = useBrowser();
let server: Server;
beforeAll(async () => void (server = await startServer()));
afterAll(async () => server.stop());

const SETUP = "squat-octahedron";

async function inTheLedger(): Promise<number[]> {
  const reply = await fetch(`${server.url}/api/readings?batch=batch.toml&setup=${SETUP}&stop=1`);
  const all = (await reply.json()) as Readings;
  return (all.stops.find((s) => s.setup === SETUP && s.stop === 1)?.readings ?? []).map((r) => r.value_mm);
}

// As a caliper that is plugged in as a keyboard does it.
async function enter(page: Page, value: string): Promise<void> {
  await page.keyboard.type(value);
  await page.keyboard.press("Enter");
}

// 16.00 to 16.19 mm: every one another, so that none can stand for another.
const VALUES = Array.from({ length: 20 }, (_, k) => (16 + k / 100).toFixed(2));

it("twenty readings, the program killed half-way, the phone's page closed and opened again: all there, each once", async () => {
  const w = await openPage(browser(), `${server.url}/#/at-saw/${SETUP}?stop=1&face=measure`, PHONE, [0]);
  await w.page.locator(".measure-face").waitFor();
  for (const value of VALUES.slice(0, 10)) await enter(w.page, value);
  await expect.poll(inTheLedger, { timeout: 20_000 }).toHaveLength(10);

  await server.kill();
  for (const value of VALUES.slice(10, 17)) await enter(w.page, value);
  await expect.poll(async () => w.page.locator(".queue-line").textContent()).toMatch(/\b7\b/);
  // The phone sleeps, and its browser drops the page.
  const context = w.page.context();
  await w.page.close();
  await server.restart();

  const page = await context.newPage();
  await page.goto(`${server.url}/#/at-saw/${SETUP}?stop=1&face=measure`);
  await page.locator(".measure-face").waitFor();
  for (const value of VALUES.slice(17)) await enter(page, value);
  await expect.poll(inTheLedger, { timeout: 30_000 }).toHaveLength(20);
  expect(await inTheLedger()).toEqual(VALUES.map(Number));
  await expect.poll(async () => page.locator(".queue-line").textContent()).toMatch(/All in the ledger/);
  w.sound();
  await w.close();
});

it("an answer that is lost on the way back doubles nothing", async () => {
  const w = await openPage(browser(), `${server.url}/#/at-saw/${SETUP}?stop=2&face=measure`, PHONE, [0]);
  await w.page.locator(".measure-face").waitFor();
  let lost = 0;
  await w.page.route("**/api/record", async (route) => {
    if (lost++ > 0) return route.continue();
    await route.fetch(); // the ledger has it
    await route.abort(); // the phone does not know
  });
  await enter(w.page, "16,02");
  await expect.poll(async () => w.page.locator(".queue-line").textContent(), { timeout: 30_000 }).toMatch(/All in/);
  expect(lost).toBeGreaterThan(1);
  const reply = await fetch(`${server.url}/api/readings?batch=batch.toml&setup=${SETUP}&stop=2`);
  const stops = ((await reply.json()) as Readings).stops.filter((s) => s.stop === 2);
  expect(stops.flatMap((s) => s.readings.map((r) => r.value_mm))).toEqual([16.02]);
  w.sound();
  await w.close();
});

it("a reading that cannot be stays on the phone with its reason, and the next one goes in", async () => {
  const w = await openPage(browser(), `${server.url}/#/at-saw/rhombic-pyramid-block?stop=1&face=measure`, PHONE);
  await w.page.locator(".measure-face").waitFor();
  await enter(w.page, "61.00");
  await enter(w.page, "16.01");
  await expect.poll(async () => w.page.locator(".queue-line").textContent()).toMatch(/\b1\b/);
  await w.page.locator(".queue-line").click();
  const box = w.page.locator("dialog.queue-box");
  await expect.poll(async () => box.textContent()).toMatch(/61\.00 mm.*more than 20 % off/);
  await box.getByRole("button", { name: /^Discard/ }).click();
  await expect.poll(async () => w.page.locator(".queue-line").textContent()).toMatch(/All in the ledger/);
  w.sound();
  await w.close();
});
