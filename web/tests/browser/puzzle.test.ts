// The puzzle view in a real browser with the real program: by the keyboard alone, without WebGL, and again and again.
import { appendFileSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { axeFindings, DESK, openPage, PHONE, useBrowser, type Watched } from "./support/browser";
import { startServer, type Server } from "./support/server";

const browser = useBrowser();
let server: Server;
beforeAll(async () => void (server = await startServer()));
afterAll(async () => server.stop());

async function open(at: string, options = DESK): Promise<Watched> {
  return openPage(browser(), `${server.url}/#/puzzle${at}`, options);
}

function words(page: Page): Promise<string | null> {
  return page.locator(".step-words h2").textContent();
}

it("the way apart is gone through by the keyboard, and its address leads back to the same step", async () => {
  const w = await open("?design=star.toml");
  const slider = w.page.getByRole("slider", { name: "the way apart" });
  await slider.focus();
  expect(await words(w.page)).toBe("Closed");
  for (let i = 0; i < 3; ++i) await w.page.keyboard.press("ArrowRight");
  expect(await words(w.page)).toBe("Step 1 of 5");
  await w.page.keyboard.press("End");
  expect(await words(w.page)).toBe("All pieces lie free");
  await w.page.getByRole("button", { name: "Step back" }).focus();
  await w.page.keyboard.press("Enter");
  await w.page.keyboard.press("Enter");
  await expect.poll(() => w.page.url()).toMatch(/step=3$/);
  expect(await words(w.page)).toBe("Step 4 of 5");
  await w.page.reload();
  await expect.poll(() => words(w.page)).toBe("Step 4 of 5");
  expect(await slider.getAttribute("aria-valuetext")).toMatch(/^Step 4 of 5: .*arm/);
  w.sound();
  await w.close();
});

it("playing ends with all pieces apart", async () => {
  const w = await open("?design=star.toml&step=4", { ...DESK, reducedMotion: "no-preference" });
  await w.page.getByRole("button", { name: "Play" }).click();
  expect(await w.page.getByRole("button", { name: "Stop" }).count()).toBe(1);
  await expect.poll(() => words(w.page), { timeout: 15_000 }).toBe("All pieces lie free");
  await w.page.getByRole("button", { name: "Play" }).waitFor();
  w.sound();
  await w.close();
});

it("a piece named in the list is named in space", async () => {
  const w = await open("?design=star.toml");
  await w.page.getByRole("button", { name: "arm 4" }).focus();
  await expect.poll(() => w.page.locator(".tag:visible").allTextContents()).toEqual(["arm 4"]);
  w.sound();
  await w.close();
});

it.each(["", "/pieces", "/touching", "/search", "/build"])("axe finds nothing at puzzle%s, nor on a phone", async (part) => {
  for (const options of [DESK, { ...PHONE, colorScheme: "dark" as const }]) {
    const w = await open(`${part}?design=star.toml`, options);
    await w.page.locator(".puzzle .sheet, .puzzle .card").first().waitFor();
    await w.page.waitForLoadState("networkidle");
    expect(await axeFindings(w.page)).toEqual([]);
    const over = await w.page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(over).toBeLessThanOrEqual(0);
    w.sound();
    await w.close();
  }
});

async function glueByKeyboard(page: Page): Promise<void> {
  await page.getByRole("button", { name: "face +x+y of block 1" }).focus();
  await page.keyboard.press("Enter");
  const way = page.locator(".way-card", { hasText: "rhombic pyramid block" }).first();
  await way.focus();
  await page.keyboard.press("Enter");
  await page.getByText("4 rhombic pyramid block").waitFor();
}

it("a block is glued, taken back, glued again and found after a reload, by the keyboard alone", async () => {
  const w = await open("/build?design=star.toml&piece=0");
  const figure = w.page.locator(".figure");
  await expect.poll(() => figure.textContent()).toBe("The goal is full");
  await glueByKeyboard(w.page);
  // Six arms of two cells more.
  await expect.poll(() => figure.textContent()).toBe("12 cells too many");
  expect(await w.page.evaluate(() => document.activeElement?.getAttribute("aria-label"))).toMatch(/of block 4$/);
  await w.page.keyboard.press("Control+z");
  await expect.poll(() => figure.textContent()).toBe("The goal is full");
  await w.page.keyboard.press("Control+Shift+Z");
  await expect.poll(() => figure.textContent()).toBe("12 cells too many");
  await w.page.keyboard.press("Control+z");
  await w.page.keyboard.press("Control+y");
  await w.page.reload();
  await expect.poll(() => figure.textContent()).toBe("12 cells too many");
  await w.page.getByRole("button", { name: "Undo" }).click();
  await expect.poll(() => figure.textContent()).toBe("The goal is full");
  w.sound();
  await w.close();
});

it("a new design is begun and saved; a file that was changed meanwhile is not overwritten", async () => {
  const w = await openPage(browser(), `${server.url}/#/puzzle/build?of=new`, DESK, [409]);
  const state = w.page.locator(".state");
  const save = w.page.getByRole("button", { name: "Save", exact: true });
  const file = join(server.folder, "mine.toml");
  await w.page.locator(".way-card", { hasText: "prism block, right-handed" }).click();
  await w.page.getByLabel("Name of the piece").fill("hook");
  expect(await save.isDisabled()).toBe(true); // no file yet
  await w.page.getByRole("textbox", { name: "File" }).fill("mine");
  await w.page.getByLabel("The solid to fill").selectOption("rhombic dodecahedron");
  await save.click();
  await expect.poll(() => state.textContent()).toBe("As it is in mine.toml.");
  // The rhombic dodecahedron with its core between x+-y = +-2 and so on has 24 cells, a prism block 3.
  await expect.poll(() => w.page.locator(".figure").textContent()).toBe("21 cells left");
  expect(readFileSync(file, "utf8")).toMatch(/draft = true[^]*shape = "prism block"/);

  await w.page.getByLabel("Copies", { exact: true }).fill("2");
  appendFileSync(file, "# a remark\n");
  await save.click();
  await w.page.getByRole("button", { name: "Read the file anew, keep my blocks" }).click();
  await expect.poll(() => w.page.getByLabel("Copies", { exact: true }).inputValue()).toBe("2");
  expect(readFileSync(file, "utf8")).not.toMatch(/copies = 2/);
  await save.click();
  await expect.poll(() => state.textContent()).toBe("As it is in mine.toml.");
  expect(readFileSync(file, "utf8")).toMatch(/copies = 2[^]*# a remark\n/);
  w.sound();
  await w.close();
});

it("all assemblies are looked for, and what was found is said", async () => {
  const w = await open("/search?design=star.toml");
  await w.page.getByRole("button", { name: "Look for all assemblies" }).click();
  const found = w.page.locator(".sheet", { has: w.page.getByRole("heading", { name: "Found" }) });
  await found.waitFor({ timeout: 30_000 });
  // As the verb says of this design.
  expect(await found.textContent()).toMatch(/goes together in 1 way.*comes apart in 5 steps, 1 to the first parting/);
  w.sound();
  await w.close();
});

const HOOKS = `format = 1
name = "twenty-five hooks"
family = "notched"

[goal]
box = [5, 5, 5]

[[piece]]
name = "hook"
copies = 25
stick = [4, 2, 1]
notches = [[0, 1, 0], [2, 1, 0], [3, 1, 0]]
`;

it("a design whose search takes long is shown soon, says that it stopped early, and leads to the long search", async () => {
  writeFileSync(join(server.folder, "hooks.toml"), HOOKS);
  const w = await open("?design=hooks.toml");
  const known = w.page.locator(".sheet", { hasText: "stopped early" });
  await known.waitFor({ timeout: 5000 });
  expect(await w.page.locator(".cast button").count()).toBe(25);
  await known.getByRole("link", { name: "All assemblies" }).click();
  await expect.poll(() => w.page.url()).toMatch(/puzzle\/search\?design=hooks.toml/);
  await w.page.getByRole("button", { name: "Look for all assemblies" }).click();
  // None of its branches ends within this time.
  await expect.poll(() => w.page.locator(".figure").textContent(), { timeout: 8000 }).toMatch(/^[1-9]\d* assembl(y|ies) found$/);
  await w.page.getByRole("button", { name: /cancel|end|stop/i }).first().click();
  await w.page.getByRole("heading", { name: "Found" }).waitFor({ timeout: 10_000 });
  w.sound();
  await w.close();
});

it("a draft that is not full shows its pieces side by side", async () => {
  const text = readFileSync(join(server.folder, "star.toml"), "utf8");
  writeFileSync(join(server.folder, "half.toml"), text.replace("copies = 6", "copies = 5").replace(/^family.*$/m, "$&\ndraft = true"));
  const w = await open("?design=half.toml");
  await w.page.getByRole("heading", { name: "Not closed" }).waitFor();
  expect(await w.page.locator(".cast button").count()).toBe(5);
  expect(await w.page.locator(".step-sheet").textContent()).toMatch(/8 cells of the goal are not filled yet/);
  expect(await axeFindings(w.page)).toEqual([]);
  w.sound();
  await w.close();
});

it("a piece given as cells is renamed, then built from its blocks, and stays the same piece", async () => {
  const file = join(server.folder, "cells.toml");
  const before = readFileSync(join(server.folder, "second.toml"), "utf8");
  writeFileSync(file, before);
  const w = await open("/build?design=cells.toml&piece=0");
  const state = w.page.locator(".state");
  const save = w.page.getByRole("button", { name: "Save", exact: true });
  await w.page.getByRole("heading", { name: "Given as cells" }).waitFor();
  expect(await axeFindings(w.page)).toEqual([]);
  expect(await w.page.getByLabel(/Make it of these blocks/).isVisible()).toBe(false);
  await w.page.getByLabel("Name of the piece").fill("feather");
  await save.click();
  await expect.poll(() => state.textContent()).toBe("As it is in cells.toml.");
  expect(readFileSync(file, "utf8")).toBe(before.replace('name = "wing"', 'name = "feather"'));

  await w.page.getByRole("button", { name: "Build from its blocks" }).click();
  // The file's own remark says that each piece is four right-handed prisms.
  await w.page.getByText("4 prism block", { exact: false }).first().waitFor();
  await expect.poll(() => w.page.locator(".figure").textContent()).toBe("The goal is full");
  await w.page.keyboard.press("Control+z");
  await w.page.getByRole("heading", { name: "Given as cells" }).waitFor();
  await w.page.keyboard.press("Control+Shift+Z");
  await expect.poll(() => w.page.locator(".figure").textContent()).toBe("The goal is full");
  await save.click();
  await expect.poll(() => state.textContent()).toBe("As it is in cells.toml.");
  expect(readFileSync(file, "utf8")).toMatch(/blocks = \[[^]*prism block/);
  expect(readFileSync(file, "utf8")).not.toMatch(/cells =/);
  w.sound();
  await w.close();
});

it("before the first save the goal that is chosen counts", async () => {
  const w = await openPage(browser(), `${server.url}/#/puzzle/build?of=new`);
  await w.page.locator(".way-card", { hasText: "prism block, right-handed" }).click();
  await w.page.getByLabel("The solid to fill").selectOption("rhombic dodecahedron");
  // 24 cells, of which a prism block takes 3.
  await expect.poll(() => w.page.locator(".figure").textContent()).toBe("21 cells left");
  await w.page.getByLabel("Copies", { exact: true }).fill("3");
  await expect.poll(() => w.page.locator(".figure").textContent()).toBe("15 cells left");
  await w.page.getByRole("button", { name: "face +x+y of block 1" }).or(w.page.locator(".free-face").first()).first().click();
  await w.page.getByLabel("only what fits the goal").waitFor();
  w.sound();
  await w.close();
});

it("under another name the whole design goes along, with the piece as it is here", async () => {
  const from = join(server.folder, "source.toml");
  const text = `# by hand\n${readFileSync(join(server.folder, "star.toml"), "utf8")}\n# the plug\n[[piece]]\nname = "plug"\noptional = true\nblocks = [{ shape = "squat octahedron" }]\n`;
  writeFileSync(from, text);
  const w = await open("/build?design=source.toml&piece=0");
  await w.page.getByLabel("Name of the piece").fill("limb");
  appendFileSync(from, "# a remark\n"); // by somebody else, meanwhile
  await w.page.getByText("Save under another name").click();
  await w.page.getByLabel("File of the copy").fill("another");
  await w.page.getByRole("button", { name: "Save the copy" }).click();
  await expect.poll(() => w.page.locator(".state").textContent()).toBe("As it is in another.toml.");
  expect(readFileSync(from, "utf8")).toBe(`${text}# a remark\n`);
  expect(readFileSync(join(server.folder, "another.toml"), "utf8")).toBe(`${text.replace('name = "arm"', 'name = "limb"')}# a remark\n`);
  w.sound();
  await w.close();
});

it("without WebGL the lists of faces and ways still build a piece", async () => {
  const w = await openPage(browser(), "about:blank");
  await w.page.addInitScript(() => {
    HTMLCanvasElement.prototype.getContext = () => null;
  });
  await w.page.goto(`${server.url}/#/puzzle/build?design=star.toml&piece=0`);
  await expect.poll(() => w.page.locator(".stage.flat").textContent()).toMatch(/WebGL is off or missing/);
  await glueByKeyboard(w.page);
  await w.page.goto(`${server.url}/#/puzzle?design=star.toml&step=1`);
  await expect.poll(() => words(w.page)).toBe("Step 2 of 5");
  await w.close();
});

it("views that are left leave no picture behind, however often", async () => {
  const w = await open("?design=star.toml");
  const lost: string[] = [];
  w.page.on("console", (m) => /too many active webgl/i.test(m.text()) && lost.push(m.text()));
  for (let round = 0; round < 10; ++round) {
    for (const at of ["?design=star.toml", "/pieces?design=second.toml", "/build?design=star.toml"]) {
      await w.page.goto(`${server.url}/#/puzzle${at}`);
      await w.page.locator(".stage canvas").waitFor();
    }
  }
  await w.page.goto(`${server.url}/#/puzzle/touching?design=star.toml`);
  await w.page.locator("table").first().waitFor();
  expect(await w.page.locator("canvas").count()).toBe(0);
  expect(lost).toEqual([]);
  w.sound();
  await w.close();
});
