// A maker who never types a command: a piece built block by block and saved is the piece that the verbs know; the whole
// way apart is played, and the picture moves with it.
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { DESK, openPage, useBrowser } from "./support/browser";
import { PROGRAM, startServer, type Server } from "./support/server";

const browser = useBrowser();
let server: Server;
beforeAll(async () => void (server = await startServer()));
afterAll(async () => server.stop());

interface Check { assemblies: { count: number; complete: boolean }; comes_apart: boolean; steps: unknown[]; pieces: { cells: number }[] }

function check(file: string): Check {
  return JSON.parse(execFileSync(PROGRAM, ["check", join(server.folder, file), "--json"], { encoding: "utf8" })) as Check;
}

function stepsOf(design: string): string[] {
  const { steps } = check(design);
  return steps.map((_, k) => `Step ${k + 1} of ${steps.length}`);
}

async function pictureOf(page: Page): Promise<string> {
  return (await page.locator(".stage canvas").screenshot()).toString("base64");
}

async function glue(page: Page, face: string, shape: string): Promise<void> {
  await page.getByRole("button", { name: `face ${face} of block 1` }).click();
  await page.locator(".way-card", { hasText: shape }).first().click();
}

it("the star's arm, built block by block and saved, is a puzzle that goes together and comes apart", async () => {
  const w = await openPage(browser(), `${server.url}/#/puzzle/build?of=new`);
  const figure = w.page.locator(".figure");
  await w.page.locator(".way-card", { hasText: "squat octahedron" }).click();
  await w.page.getByLabel("Name of the piece").fill("arm");
  await w.page.getByRole("textbox", { name: "File" }).fill("again");
  await w.page.getByLabel("The solid to fill").selectOption("first stellation of the rhombic dodecahedron");
  await w.page.getByLabel("Copies", { exact: true }).fill("6");
  await w.page.getByRole("button", { name: "Save", exact: true }).click();
  // The first stellation has 48 cells, the squat octahedron 4.
  await expect.poll(() => figure.textContent()).toBe("24 cells left");
  await glue(w.page, "+x+z", "rhombic pyramid block");
  await expect.poll(() => figure.textContent()).toBe("12 cells left");
  await glue(w.page, "+x-z", "rhombic pyramid block");
  await expect.poll(() => figure.textContent()).toBe("The goal is full");
  await w.page.getByRole("button", { name: "Save", exact: true }).click();
  await expect.poll(() => w.page.locator(".state").textContent()).toBe("As it is in again.toml.");
  const star = check("again.toml");
  expect(star.pieces).toEqual([expect.objectContaining({ cells: 8 })]);
  expect(star.assemblies).toMatchObject({ count: 1, complete: true });
  expect(star.comes_apart).toBe(true);
  w.sound();
  await w.close();
});

it("the whole way apart is played, and every step is another picture", async () => {
  const design = "star.toml";
  const w = await openPage(browser(), `${server.url}/#/puzzle?design=${design}`, { ...DESK, reducedMotion: "no-preference" });
  const heading = w.page.locator(".step-words h2");
  await expect.poll(() => heading.textContent()).toBe("Closed");
  const seen = new Set<string>(["Closed"]);
  const pictures = new Set<string>([await pictureOf(w.page)]);
  await w.page.getByRole("button", { name: "Play" }).click();
  const until = Date.now() + 50_000;
  while (Date.now() < until) {
    const words = (await heading.textContent()) ?? "";
    if (!seen.has(words)) pictures.add(await pictureOf(w.page));
    seen.add(words);
    if (words === "All pieces lie free") break;
    await w.page.waitForTimeout(30);
  }
  const steps = stepsOf(design);
  expect([...seen]).toEqual(["Closed", ...steps, "All pieces lie free"]);
  expect(pictures.size).toBe(steps.length + 2);
  w.sound();
  await w.close();
});

it("the way apart of eight pieces is gone through step by step, and every step is another picture", async () => {
  const w = await openPage(browser(), `${server.url}/#/puzzle?design=second.toml`);
  const heading = w.page.locator(".step-words h2");
  await expect.poll(() => heading.textContent()).toBe("Closed");
  const pictures = new Set<string>([await pictureOf(w.page)]);
  const seen: string[] = [];
  const steps = stepsOf("second.toml");
  for (let k = 0; k < steps.length; ++k) {
    await w.page.getByRole("button", { name: "Step on" }).click();
    seen.push((await heading.textContent()) ?? "");
    pictures.add(await pictureOf(w.page));
  }
  expect(seen).toEqual([...steps.slice(1), "All pieces lie free"]);
  expect(pictures.size).toBe(steps.length + 1);
  w.sound();
  await w.close();
});
