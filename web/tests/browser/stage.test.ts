// What a stage takes of the graphics card it gives back: the page's own modules, run in a browser beside the tests.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { createServer, type ViteDevServer } from "vite";
import { afterAll, beforeAll, expect, it } from "vitest";
import type * as CastModule from "../../src/puzzle/cast";
import type { PuzzleReply } from "../../src/puzzle/model";
import type * as StageModule from "../../src/view/stage";
import { useBrowser } from "./support/browser";
import { startServer } from "./support/server";

const LOAD = `
  import * as stage from "/src/view/stage.ts";
  import * as cast from "/src/puzzle/cast.ts";
  window.page = { ...stage, ...cast };
`;

const browser = useBrowser();
const cache = mkdtempSync(join(tmpdir(), "stickwright-modules-"));
let modules: ViteDevServer;
const designs: PuzzleReply[] = [];

beforeAll(async () => {
  const server = await startServer();
  for (const file of ["star.toml", "second.toml"])
    designs.push((await (await fetch(`${server.url}/api/puzzle?design=${file}`)).json()) as PuzzleReply);
  await server.stop();
  modules = await createServer({
    root: resolve(import.meta.dirname, "../.."), configFile: false, logLevel: "error", cacheDir: cache,
    server: { host: "127.0.0.1", port: 0 }, optimizeDeps: { include: ["three", "three/examples/jsm/controls/OrbitControls.js"] },
  });
  await modules.listen();
});
afterAll(async () => {
  await modules.close();
  rmSync(cache, { recursive: true, force: true });
});

it("after ten designs were shown, the graphics card holds what it held before", async () => {
  const page = await browser().newPage({ viewport: { width: 900, height: 700 } });
  await page.goto(`${modules.resolvedUrls!.local[0]}licenses.md`);
  await page.setContent("<div id=host style='width:600px;height:400px'></div>");
  await page.addScriptTag({ type: "module", content: LOAD });
  await page.waitForFunction(() => "page" in window);
  const counts = await page.evaluate((puzzles) => {
    const { createStage, putOn } = (window as unknown as { page: typeof StageModule & typeof CastModule }).page;
    const host = document.getElementById("host")!;
    const stage = createStage(host, "a stage");
    stage.drawNow();
    const begin = stage.memory();
    const during: number[] = [];
    for (let k = 0; k < 10; ++k) {
      const cast = putOn(stage, host, puzzles[k % puzzles.length]!, () => undefined);
      stage.frame();
      cast.point(0);
      stage.cut({ normal: [1, 0, 0], at: 0.1 });
      stage.drawNow();
      during.push(stage.memory().geometries);
      cast.undo();
      stage.cut(null);
      stage.drawNow();
    }
    const end = stage.memory();
    stage.dispose();
    return { begin, during, end, left: host.childElementCount };
  }, designs);
  expect(counts.end).toEqual(counts.begin);
  expect(counts.left).toBe(0);
  // It counts at all: faces and lines of six pieces, and of eight.
  expect(counts.during.map((n) => n - counts.begin.geometries)).toEqual([12, 16, 12, 16, 12, 16, 12, 16, 12, 16]);
  await page.close();
});
