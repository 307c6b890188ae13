// With --lan, a device in the shop's network gets nothing until it has said the code that the desk shows.
import { networkInterfaces } from "node:os";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openPage, PHONE, useBrowser } from "./support/browser";
import { startServer, type Server } from "./support/server";

const own = Object.values(networkInterfaces())
  .flat()
  .find((a) => a && a.family === "IPv4" && !a.internal)?.address;

// A machine without any network has no address that is not its own loopback: nothing to pair over.
describe.skipIf(own === undefined)("from the shop's network", () => {
  const browser = useBrowser();
  let server: Server;
  let shop: string;
  let code: string;
  beforeAll(async () => {
    server = await startServer(undefined, ["--lan"]);
    shop = `http://${own}:${new URL(server.url).port}`;
    const pairing = (await (await fetch(`${server.url}/api/pairing`)).json()) as { code: string };
    code = pairing.code;
  });
  afterAll(async () => server.stop());

  it("the desk shows the code, the terminal too, and nobody else is told", async () => {
    expect(code).toMatch(/^\d{6}$/);
    expect(server.said).toContain(code);
    expect((await fetch(`${shop}/api/pairing`)).status).toBe(401);
  });

  it("calls are refused without a code, and with a wrong one", async () => {
    for (const path of ["/api/folder", "/api/setups?batch=batch.toml", "/api/jobs/1", "/api/file?name=batch.toml"])
      expect((await fetch(shop + path)).status, path).toBe(401);
    const wrong = code === "000000" ? "000001" : "000000";
    const reply = await fetch(`${shop}/api/pair`, {
      method: "POST",
      headers: { "Content-Type": "application/json", Origin: shop },
      body: JSON.stringify({ code: wrong }),
    });
    expect(reply.status).toBeGreaterThanOrEqual(400);
    expect(reply.headers.get("set-cookie")).toBeNull();
  });

  it("a phone says the code once, and works from then on, after a reload too", async () => {
    const w = await openPage(browser(), `${shop}/#/saw`, PHONE, [401]);
    await w.page.getByLabel("Code").fill(code);
    await w.page.getByRole("button", { name: "Pair" }).click();
    await w.page.locator(".card").first().waitFor();
    await w.page.reload();
    await w.page.locator(".card").first().waitFor();
    const cookie = (await w.page.context().cookies())[0];
    expect(cookie?.httpOnly).toBe(true);
    expect(cookie?.sameSite).toBe("Strict");
    w.sound();
    await w.close();
  });
});
