// The Ledger in a real browser, on readings that the program itself has written.
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import type { BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { axeFindings, DESK, openPage, PHONE, useBrowser, type Watched } from "./support/browser";
import { PROGRAM, startServer, type Server } from "./support/server";

const browser = useBrowser();
let server: Server;

function tell(verb: string, ...more: string[]): void {
  // 1: the answer is no, here that the saw is to be stopped
  try {
    execFileSync(PROGRAM, [verb, join(server.folder, "batch.toml"), ...more], { stdio: "ignore" });
  } catch (error) {
    if ((error as { status?: number }).status !== 1) throw error;
  }
}

beforeAll(async () => {
  server = await startServer();
  tell("record", "--setup", "1", "--wood", "black cherry", "--block", "1", "--by", "Rowan", "16.06", "16.07", "16.05");
  tell("correct", "--setup", "1", "--keep");
  tell("record", "--setup", "1", "--wood", "black cherry", "--stick", "A", "--block", "4", "16.00", "16.01", "15.99", "16.00", "16.20");
  tell("record", "--setup", "3", "--width", "--wood", "sugar maple", "15.98/16.01", "15.97/16.02");
});
afterAll(async () => server.stop());

async function open(at: string, options: BrowserContextOptions = DESK): Promise<Watched> {
  const w = await openPage(browser(), `${server.url}/${at}`, options);
  await w.page.locator(".chart canvas").first().waitFor();
  return w;
}

function row(page: Page, text: string): ReturnType<Page["locator"]> {
  return page.locator(".readings tbody tr:not(.change-row)", { hasText: text });
}

it.each([
  ["desk, light", { ...DESK, colorScheme: "light" }], ["desk, dark", { ...DESK, colorScheme: "dark" }],
  ["phone, light", { ...PHONE, colorScheme: "light" }], ["phone, dark", { ...PHONE, colorScheme: "dark" }],
] as [string, BrowserContextOptions][])("%s: axe finds nothing, also with the forms open, and nothing is wider than the screen", async (_, options) => {
  const w = await open("#/ledger", options);
  await w.page.locator("summary", { hasText: "Enter readings" }).click();
  await row(w.page, "16.200 mm").getByText("Correct").click();
  expect(await axeFindings(w.page)).toEqual([]);
  expect(await w.page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
  w.sound();
  await w.close();
});

it("a reading is corrected, the old value stays in sight, and undo writes a third one", async () => {
  const w = await open("#/ledger/rhombic-pyramid-block?stop=1");
  await row(w.page, "16.200 mm").getByText("Correct").click();
  await w.page.getByLabel("What it should have been").fill("16,02");
  await w.page.keyboard.press("Enter");
  await row(w.page, "corrected from 16.200 mm to 16.020 mm").waitFor();
  await w.page.locator(".undo-bar").getByText("Undo").click();
  await row(w.page, "corrected from 16.020 mm to 16.200 mm (taken back)").waitFor();
  w.sound();
  await w.close();
});

it("a reading is withdrawn with a remark, does not count any more, and can be put back", async () => {
  const w = await open("#/ledger/rhombic-pyramid-block?stop=1");
  await row(w.page, "15.990 mm").getByText("Withdraw").click();
  await w.page.getByLabel("Why").fill("chip under the block");
  await w.page.locator(".change button", { hasText: "Withdraw" }).click();
  const withdrawn = row(w.page, "chip under the block");
  await withdrawn.getByText("Put back").click();
  await w.page.locator(".change button", { hasText: "Put back" }).click();
  await row(w.page, "put back as 15.990 mm").waitFor();
  w.sound();
  await w.close();
});

it("the chart is gone through by the keyboard, and Enter leads to the reading in the table", async () => {
  const w = await open("#/ledger/rhombic-pyramid-block?stop=1");
  const chart = w.page.getByRole("slider");
  await chart.focus();
  await w.page.keyboard.press("Home");
  expect(await chart.getAttribute("aria-valuetext")).toMatch(/^entry 1: 16\.060 mm; written before the last leaf/);
  await w.page.keyboard.press("End");
  expect(await chart.getAttribute("aria-valuetext")).toMatch(/^reading 5: 16\.200 mm; outside the tolerance/);
  await w.page.keyboard.press("Enter");
  expect(await w.page.evaluate(() => document.activeElement?.textContent)).toContain("16.200 mm");
  await w.close();
});

it("what is found is in the address, and the address finds it again", async () => {
  const w = await open("#/ledger");
  await w.page.getByLabel("Find").fill("maple");
  await row(w.page, "sugar maple").first().waitFor();
  expect(await row(w.page, "black cherry").count()).toBe(0);
  expect(w.page.url()).toContain("find=maple");
  await w.page.reload();
  await row(w.page, "sugar maple").first().waitFor();
  expect(await row(w.page, "black cherry").count()).toBe(0);
  await w.close();
});

it("readings are entered at the desk; those that cannot be stay in the field", async () => {
  const w = await open("#/ledger");
  await w.page.locator("summary", { hasText: "Enter readings" }).click();
  await w.page.getByLabel("Which size").selectOption({ label: "3. squat octahedron, stop 2" });
  await w.page.getByLabel("Values").fill("16.01 mm 99 16.02");
  await w.page.getByText("Write into the ledger").click();
  await w.page.getByText("In the ledger: 2 readings").waitFor();
  expect(await w.page.getByLabel("Values").inputValue()).toContain("99");
  await row(w.page, "stop 2").first().waitFor();
  expect(await row(w.page, "stop 2").count()).toBe(2);
  w.sound();
  await w.close();
});

it("readings that came in elsewhere are there when the window is looked at again", async () => {
  const w = await open("#/ledger");
  tell("record", "--setup", "2", "--note", "from elsewhere", "16.01");
  await w.page.evaluate(() => window.dispatchEvent(new Event("focus")));
  await row(w.page, "from elsewhere").waitFor();
  await w.close();
});

it("twenty visits leave no chart behind", async () => {
  const w = await open("#/ledger");
  const count = async (): Promise<number> => w.page.evaluate(() => document.querySelectorAll("canvas, .uplot").length);
  const before = await count();
  for (let i = 0; i < 20; i++) {
    await w.page.evaluate(() => (location.hash = "#/batch"));
    await w.page.locator("a[aria-current]", { hasText: "Batch" }).waitFor();
    await w.page.evaluate(() => (location.hash = "#/ledger"));
    await w.page.locator(".chart canvas").first().waitFor();
  }
  expect(await count()).toBe(before);
  await w.close();
});
