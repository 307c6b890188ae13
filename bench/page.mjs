// How soon the page shows its first picture, and how evenly it draws. Run after a release build:
//   node bench/page.mjs [build/release/src/stickwright]
// Frames are compared with an empty page whose canvas is only cleared, in the same browser and run: what is left is the
// browser's and the machine's. Without a graphics card the browser draws by software, and says so here.
import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { chromium } from "../web/node_modules/playwright-core/index.mjs";

const ROOT = resolve(import.meta.dirname, "..");
const PROGRAM = resolve(process.argv[2] ?? join(ROOT, "build/release/src/stickwright"));
const FLAGS = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--disable-quic",
  "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];
const SECONDS = 6;

const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];
const high = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length * 0.95)];

function serve(folder) {
  const child = spawn(PROGRAM, ["serve", folder, "--port", "0"], { stdio: ["ignore", "pipe", "inherit"] });
  return new Promise((take) => {
    let text = "";
    child.stdout.on("data", (data) => {
      const url = /Open (http:\/\/\S+?)\/? /.exec((text += data))?.[1];
      if (url) take({ child, url });
    });
  });
}

// Milliseconds between frames while `begin` has the page move.
async function intervals(page, begin) {
  await begin();
  return page.evaluate((seconds) => new Promise((take) => {
    const gaps = [];
    let before = performance.now();
    const until = before + seconds * 1000;
    const frame = (now) => {
      gaps.push(now - before);
      before = now;
      if (now < until) requestAnimationFrame(frame);
      else take(gaps.slice(2));
    };
    requestAnimationFrame(frame);
  }), SECONDS);
}

function clearedOnly() {
  document.body.replaceChildren();
  const canvas = document.createElement("canvas");
  canvas.width = 760, canvas.height = 500;
  document.body.append(canvas);
  const gl = canvas.getContext("webgl2");
  const frame = (now) => {
    gl.clearColor((now % 1000) / 1000, 0.5, 0.5, 1);
    gl.clear(gl.COLOR_BUFFER_BIT);
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
}

const folder = mkdtempSync(join(tmpdir(), "stickwright-bench-"));
cpSync(join(ROOT, "examples/wrenfield"), folder, { recursive: true });
const browser = await chromium.launch({ executablePath: "/usr/bin/chromium", headless: true, args: FLAGS });
const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });

const firsts = [];
for (let run = 0; run < 5; ++run) {
  const begun = performance.now();
  const { child, url } = await serve(folder);
  const page = await context.newPage();
  await page.goto(`${url}/#/puzzle?design=star.toml`);
  await page.locator(".stage canvas").waitFor();
  await page.evaluate(() => new Promise((take) => requestAnimationFrame(() => requestAnimationFrame(take))));
  firsts.push(performance.now() - begun);
  await page.close();
  child.kill("SIGTERM");
}
console.log(`machine: ${cpus()[0].model}, ${cpus().length} cores`);
console.log(`program started -> first picture of the star: median ${median(firsts).toFixed(0)} ms of ${firsts.length} (${firsts.map((f) => f.toFixed(0)).join(", ")})`);

const { child, url } = await serve(folder);
const page = await context.newPage();
await page.goto(url);
const by = await page.evaluate(() => {
  const gl = document.createElement("canvas").getContext("webgl2");
  const more = gl.getExtension("WEBGL_debug_renderer_info");
  return gl.getParameter(more ? more.UNMASKED_RENDERER_WEBGL : gl.RENDERER);
});
console.log(`drawn by: ${by}`);
const empty = await intervals(page, () => page.evaluate(clearedOnly));
console.log(`baseline, a canvas only cleared: ${(1000 / median(empty)).toFixed(1)} frames a second, 95 % within ${high(empty).toFixed(1)} ms`);
for (const design of ["star.toml", "second.toml"]) {
  const own = await context.newPage();
  await own.goto(`${url}/#/puzzle?design=${design}`);
  await own.locator(".stage canvas").waitFor();
  await own.waitForTimeout(1000);
  const gaps = await intervals(own, () => own.getByRole("button", { name: "Play" }).click());
  console.log(`${design} coming apart: ${(1000 / median(gaps)).toFixed(1)} frames a second, 95 % within ${high(gaps).toFixed(1)} ms, ${(median(gaps) / median(empty)).toFixed(2)} times the baseline`);
  await own.close();
}
await browser.close();
child.kill("SIGTERM");
rmSync(folder, { recursive: true, force: true });
