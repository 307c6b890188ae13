// The page as a whole: it works without the internet, everybody can use it, it looks as it was looked at.
import { readFileSync } from "node:fs";
import type { BrowserContextOptions } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { axeFindings, DESK, openPage, PHONE, PHONE_WIDE, useBrowser } from "./support/browser";
import { emptyFolder, startServer, type Server } from "./support/server";
import { shotDiffers } from "./support/shots";

const browser = useBrowser();
let server: Server;
beforeAll(async () => void (server = await startServer()));
afterAll(async () => server.stop());

// What has to be on the screen before the view counts as drawn.
const VIEWS: { at: string; name: string; ready: string }[] = [
  { at: "#/puzzle?design=star.toml", name: "puzzle", ready: ".stage canvas" },
  { at: "#/saw", name: "saw", ready: ".card" },
  { at: "#/at-saw", name: "at-saw", ready: "main li a" },
  { at: "#/at-saw/squat-octahedron", name: "at-saw-set", ready: "main button" },
  { at: "#/at-saw/squat-octahedron?face=measure", name: "at-saw-measure", ready: "main button" },
  { at: "#/batch", name: "batch", ready: "main svg:visible" },
  { at: "#/fit", name: "fit", ready: "table" },
  { at: "#/ledger", name: "ledger", ready: ".empty, table" },
];

const SCREENS: { name: string; options: BrowserContextOptions }[] = [
  { name: "desk-light", options: { ...DESK, colorScheme: "light" } },
  { name: "desk-dark", options: { ...DESK, colorScheme: "dark" } },
  { name: "phone-light", options: { ...PHONE, colorScheme: "light" } },
  { name: "phone-dark", options: { ...PHONE, colorScheme: "dark" } },
];

describe.each(SCREENS)("on $name", ({ name, options }) => {
  it.each(VIEWS)("$name is drawn soundly, axe finds nothing, and it looks as it did", async (view) => {
    const w = await openPage(browser(), `${server.url}/${view.at}`, options);
    await w.page.locator(view.ready).first().waitFor();
    await w.page.waitForLoadState("networkidle");
    expect(await axeFindings(w.page)).toEqual([]);
    expect(await shotDiffers(w.page, `${view.name}-${name}`)).toBe("");
    w.sound();
    await w.close();
  });
});

it("At the saw fits a phone that lies on its side", async () => {
  const w = await openPage(browser(), `${server.url}/`, PHONE_WIDE);
  for (const face of ["stop", "cut", "measure"]) {
    await w.page.goto(`${server.url}/#/at-saw/squat-octahedron?face=${face}`);
    await w.page.locator(`.${face}-face`).waitFor();
    const over = await w.page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(over).toBeLessThanOrEqual(0);
    expect(await axeFindings(w.page)).toEqual([]);
    expect(await shotDiffers(w.page, `at-saw-${face}-phone-wide`)).toBe("");
  }
  await w.close();
});

it("no view is wider than a phone", async () => {
  const w = await openPage(browser(), `${server.url}/`, PHONE);
  for (const view of VIEWS) {
    await w.page.goto(`${server.url}/${view.at}`);
    await w.page.locator(view.ready).first().waitFor();
    const over = await w.page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(over, view.name).toBeLessThanOrEqual(0);
  }
  await w.close();
});

it("every view is reached by the keyboard alone, and the focus is seen", async () => {
  const w = await openPage(browser(), `${server.url}/#/batch`, DESK);
  await w.page.locator("nav a").first().waitFor();
  await w.page.keyboard.press("Tab");
  expect(await w.page.evaluate(() => document.activeElement?.textContent)).toBe("To the contents");
  const seen: string[] = [];
  for (let i = 0; i < 6; ++i) {
    await w.page.keyboard.press("Tab");
    const focus = await w.page.evaluate(() => {
      const e = document.activeElement as HTMLElement;
      return { text: e.textContent ?? "", outline: getComputedStyle(e).outlineStyle };
    });
    expect(focus.outline).toBe("solid");
    seen.push(focus.text);
  }
  expect(seen).toEqual(["Puzzle", "Saw", "At the saw", "Batch", "Fit", "Ledger"]);
  await w.close();
});

it("the units change everywhere, and are kept", async () => {
  const w = await openPage(browser(), `${server.url}/#/saw`, DESK);
  const card = w.page.locator(".card").first();
  await card.waitFor();
  expect(await card.textContent()).toMatch(/\d mm/);
  await w.page.getByLabel("Lengths in").selectOption("inch");
  // What is engraved on the gauge blocks is read off them, whatever else is shown in.
  const without = async (): Promise<string> => ((await card.textContent()) ?? "").replace(/= [\d. +]+ mm/, "");
  await expect.poll(without).toMatch(/0\.\d+ in/);
  expect(await without()).not.toMatch(/\d mm/);
  await w.page.reload();
  await card.waitFor();
  expect(await without()).not.toMatch(/\d mm/);
  await w.page.getByLabel("Lengths in").selectOption("fraction");
  await expect.poll(async () => card.textContent()).toMatch(/\d+\/(2|4|8|16|32|64) in/);
  w.sound();
  await w.close();
});

it("an empty folder teaches what to do in every view", async () => {
  const empty = await startServer(emptyFolder());
  const w = await openPage(browser(), `${empty.url}/`, DESK);
  for (const view of VIEWS) {
    await w.page.goto(`${empty.url}/${view.at.split("?")[0]}`);
    const box = w.page.locator(".empty").first();
    await box.waitFor();
    expect((await box.textContent())?.length, view.name).toBeGreaterThan(40);
    expect(await axeFindings(w.page)).toEqual([]);
  }
  w.sound();
  await w.close();
  await empty.stop();
});

it("a view that is printed leaves out what only a screen can do", async () => {
  const w = await openPage(browser(), `${server.url}/#/saw`, DESK);
  await w.page.locator(".card").first().waitFor();
  await w.page.emulateMedia({ media: "print" });
  expect(await w.page.locator("header").isVisible()).toBe(false);
  expect(await w.page.locator("main button:visible").count()).toBe(0);
  expect(await w.page.locator(".card").first().isVisible()).toBe(true);
  await w.close();
});

it("the page names the licenses of what is packed into it", async () => {
  const reply = await fetch(`${server.url}/licenses.md`);
  expect(reply.status).toBe(200);
  const text = await reply.text();
  for (const name of ["three", "uplot"]) expect(text.toLowerCase()).toContain(name);
  const lock = JSON.parse(readFileSync(`${import.meta.dirname}/../../package.json`, "utf8")) as {
    dependencies: Record<string, string>;
  };
  expect(Object.keys(lock.dependencies).sort()).toEqual(["three", "uplot"]);
});
