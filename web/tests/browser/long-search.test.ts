// A search that would take long: it tells how far it is, is ended by hand, and what it found by then stays.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { openPage, useBrowser } from "./support/browser";
import { startServer, type Server } from "./support/server";

// The twelve pentominoes, named by the letters that the literature on polyominoes gives them.
const PENTOMINOES: Record<string, [number, number][]> = {
  F: [[1, 0], [2, 0], [0, 1], [1, 1], [1, 2]], I: [[0, 0], [0, 1], [0, 2], [0, 3], [0, 4]],
  L: [[0, 0], [0, 1], [0, 2], [0, 3], [1, 3]], N: [[1, 0], [1, 1], [0, 2], [1, 2], [0, 3]],
  P: [[0, 0], [1, 0], [0, 1], [1, 1], [0, 2]], T: [[0, 0], [1, 0], [2, 0], [1, 1], [1, 2]],
  U: [[0, 0], [2, 0], [0, 1], [1, 1], [2, 1]], V: [[0, 0], [0, 1], [0, 2], [1, 2], [2, 2]],
  W: [[0, 0], [0, 1], [1, 1], [1, 2], [2, 2]], X: [[1, 0], [0, 1], [1, 1], [2, 1], [1, 2]],
  Y: [[1, 0], [0, 1], [1, 1], [1, 2], [1, 3]], Z: [[0, 0], [1, 0], [1, 1], [1, 2], [2, 2]],
};

// Into a box of 3 x 4 x 5 they go in 3940 ways (C. J. Bouwkamp, Packing a rectangular box with the twelve solid
// pentominoes, Journal of Combinatorial Theory 7, 1969): enough to be ended long before the end.
function bigBox(): string {
  const pieces = Object.entries(PENTOMINOES).map(([name, squares]) => {
    const cells = squares.map(([x, y]) => `[${x}, ${y}, 0]`).join(", ");
    return `[[piece]]\nname = "shape ${name}"\ncells = [${cells}]\n`;
  });
  const head = 'format = 1\nname = "twelve flat shapes"\nfamily = "notched"\n\n[goal]\nbox = [3, 4, 5]\n';
  return [head, ...pieces].join("\n");
}

const browser = useBrowser();
let server: Server;
beforeAll(async () => {
  server = await startServer();
  writeFileSync(join(server.folder, "twelve.toml"), bigBox());
});
afterAll(async () => server.stop());

it("a long search is ended by hand and keeps what it found, and says that there may be more", async () => {
  const w = await openPage(browser(), `${server.url}/#/puzzle/search?design=twelve.toml`);
  await w.page.getByRole("button", { name: "Look for all assemblies" }).click();
  const bar = w.page.locator(".job");
  await expect.poll(async () => bar.textContent(), { timeout: 30_000 }).toMatch(/[1-9]\d* assembl.*% done/);
  await w.page.getByRole("button", { name: "Stop here" }).click();
  const found = w.page.locator(".sheet", { has: w.page.getByRole("heading", { name: "Found" }) });
  await found.waitFor({ timeout: 30_000 });
  const text = (await found.textContent()) ?? "";
  const count = Number(/at least (\d+) ways?/.exec(text)?.[1]);
  expect(count, text).toBeGreaterThan(0);
  expect(count).toBeLessThan(3940);
  w.sound();
  await w.close();
});
