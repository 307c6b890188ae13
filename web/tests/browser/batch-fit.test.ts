// Batch and fit in a real browser: what they ask is as docs/api.yaml says, and everybody can use them.
import { afterAll, beforeAll, expect, it } from "vitest";
import { axeFindings, DESK, openPage, PHONE, useBrowser } from "./support/browser";
import { startServer, type Server } from "./support/server";

const browser = useBrowser();
let server: Server;
beforeAll(async () => void (server = await startServer()));
afterAll(async () => server.stop());

it("the batch draws every stick, every evening and every puzzle's cost", async () => {
  const w = await openPage(browser(), `${server.url}/#/batch`, DESK);
  await w.page.locator("ol.days").waitFor();
  const sticks = await w.page.locator("ol.sticks svg").count();
  const rows = await w.page.getByRole("region", { name: "Sticks, in the order of sawing" }).locator("tbody tr").count();
  expect(sticks).toBe(rows);
  expect(sticks).toBeGreaterThan(3);
  expect(await w.page.locator("dl.figures").count()).toBe(2);
  expect(await axeFindings(w.page)).toEqual([]);
  w.sound();
  await w.close();
});

it("a link leads to a part of the batch", async () => {
  const w = await openPage(browser(), `${server.url}/#/batch/week?batch=batch.toml`, DESK);
  await w.page.locator("ol.days").waitFor();
  await expect.poll(async () => w.page.evaluate(() => document.activeElement?.textContent)).toBe("Evenings");
  await w.close();
});

it("sticks are looked at with the keyboard alone", async () => {
  const w = await openPage(browser(), `${server.url}/#/batch/sticks`, DESK);
  const first = w.page.locator("ol.sticks svg").first();
  await first.focus();
  await w.page.keyboard.press("ArrowRight");
  await expect.poll(async () => w.page.locator(".detail.chosen").textContent()).toContain("block 1 of");
  await w.close();
});

it("sliders ask with one call in flight, stand where they stood in other units, and the phone shows it all", async () => {
  const w = await openPage(browser(), `${server.url}/#/fit/1?batch=batch.toml`, PHONE);
  const slider = w.page.locator("input[type=range]").nth(3);
  await slider.waitFor();
  let flying = 0;
  let most = 0;
  w.page.on("request", (r) => r.url().endsWith("/api/fit/try") && (most = Math.max(most, ++flying)));
  w.page.on("requestfinished", (r) => r.url().endsWith("/api/fit/try") && --flying);
  await slider.focus();
  for (let k = 0; k < 12; ++k) await w.page.keyboard.press("ArrowRight");
  await expect.poll(async () => w.page.locator(".tried").textContent()).toContain("close");
  expect(most).toBe(1);
  await expect.poll(async () => w.page.locator(".said").nth(3).textContent()).toBe("+0.060 mm");
  await w.page.getByLabel("Lengths in").selectOption("inch");
  expect(await w.page.locator(".said").nth(3).textContent()).toBe("+0.0024 in");
  expect(await w.page.locator(".tried").textContent()).toContain("close");
  expect(await w.page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
  expect(await axeFindings(w.page)).toEqual([]);
  w.sound();
  await w.close();
});

it("a puzzle that cannot jam says so", async () => {
  const w = await openPage(browser(), `${server.url}/#/fit/2?batch=batch.toml`, { ...DESK, colorScheme: "dark" });
  await w.page.getByText("Its contacts cannot jam").waitFor();
  expect(await w.page.locator("input[type=range]").count()).toBe(0);
  expect(await axeFindings(w.page)).toEqual([]);
  w.sound();
  await w.close();
});

it("measured blocks that are not there are taught", async () => {
  const w = await openPage(browser(), `${server.url}/#/fit`, DESK);
  await w.page.getByRole("button", { name: "Sort the measured blocks" }).click();
  await w.page.getByText("Record the widths").waitFor();
  w.sound();
  await w.close();
});

it("the packet is made, and opens", async () => {
  const w = await openPage(browser(), `${server.url}/#/batch`, DESK);
  await w.page.getByRole("button", { name: "Make the packet" }).click();
  const open = w.page.getByRole("link", { name: "Open the packet" });
  await open.waitFor({ timeout: 60_000 });
  const pdf = await w.page.request.get(`${server.url}/${(await open.getAttribute("href"))!.replace(/^\//, "")}`);
  expect(pdf.status()).toBe(200);
  expect((await pdf.body()).subarray(0, 4).toString()).toBe("%PDF");
  await w.close();
}, 90_000);
