// server.ts - the real program, serving a copy of the examples.
import { spawn, type ChildProcess } from "node:child_process";
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const ROOT = resolve(import.meta.dirname, "../../../..");
export const PROGRAM = process.env["STICKWRIGHT"] ?? join(ROOT, "build/release/src/stickwright");

export interface Server {
  folder: string;
  url: string;
  said: string; // everything it printed
  // Ends it at once, as a power cut would; `restart` listens on the same port.
  kill(): Promise<void>;
  restart(): Promise<void>;
  stop(): Promise<void>; // and removes the folder
}

export function copyOfExamples(): string {
  const folder = mkdtempSync(join(tmpdir(), "stickwright-page-"));
  cpSync(join(ROOT, "examples/wrenfield"), folder, { recursive: true });
  return folder;
}

export function emptyFolder(): string {
  return mkdtempSync(join(tmpdir(), "stickwright-empty-"));
}

async function listening(child: ChildProcess, said: (text: string) => void): Promise<string> {
  return new Promise((take, fail) => {
    let text = "";
    const hear = (data: Buffer): void => {
      text += data.toString();
      said(data.toString());
      const url = /Open (http:\/\/\S+?)\/? /.exec(text)?.[1];
      if (url) take(url);
    };
    child.stdout?.on("data", hear);
    child.stderr?.on("data", hear);
    child.once("exit", (code, signal) => {
      said(`ended: ${code ?? signal}\n`);
      fail(new Error(`the program ended with ${code ?? signal}: ${text}`));
    });
  });
}

export async function startServer(folder = copyOfExamples(), more: string[] = []): Promise<Server> {
  let child: ChildProcess;
  const server: Server = {
    folder,
    url: "",
    said: "",
    kill: async () => {
      const ended = new Promise((take) => child.once("exit", take));
      child.kill("SIGKILL");
      await ended;
    },
    restart: async () => run(new URL(server.url).port),
    stop: async () => {
      if (child.exitCode === null && child.signalCode === null) await server.kill();
      rmSync(folder, { recursive: true, force: true });
    },
  };
  const run = async (port: string): Promise<void> => {
    child = spawn(PROGRAM, ["serve", folder, "--port", port, ...more], { stdio: ["ignore", "pipe", "pipe"] });
    server.url = await listening(child, (text) => (server.said += text));
  };
  await run("0");
  return server;
}
