// packet.ts - makes the printed packet, and opens the last one.
import { link, post, type JobDone } from "../api";
import { h, show } from "../dom";
import { jobBar } from "../view/job-bar";
import { announce, problemBox } from "../view/notice";
import type { BatchHead, PacketFiles } from "./model";

export interface PacketBox {
  element: HTMLElement;
  tell: (packet: BatchHead["packet"]) => void; // what the program knows of the last one
  undo: () => void;
}

export function packetBox(batch: string): PacketBox {
  let undo = (): void => undefined;
  let gone = false;
  const last = h("p", {});
  const job = h("div", {});
  const open = (text: string): HTMLElement =>
    h("a", { href: link("/api/packet.pdf", { batch }), target: "_blank", rel: "noopener" }, text);
  const button = h("button", { type: "button", class: "main", onclick: () => void make() }, "Make the packet");

  const tell = (packet: BatchHead["packet"]): void => {
    if (!packet) return show(last, "Not made yet: everything for the evenings at the saw, as one PDF.");
    show(last, open("Open the packet"), ` (${packet.name})`,
      packet.older_than_files && h("span", { class: "warn-text" }, " It is older than the files: make it anew before you saw."));
  };
  const done = (d: JobDone<PacketFiles>): void => {
    button.disabled = false;
    if (d.state === "failed" && d.problem) return show(job, problemBox(d.problem, () => void make()));
    const files = d.result?.files ?? [];
    if (files.length === 0) return show(job, h("p", {}, "Stopped: no packet was written."));
    const pdf = files.filter((f) => f.pages !== null).map((f) => `${f.name} (${f.pages} pages, ${f.paper})`);
    show(last, open("Open the packet"), ` Written: ${[...pdf, ...files.filter((f) => f.pages === null).map((f) => f.name)].join(", ")}.`);
    show(job);
    announce("The packet is written.");
  };
  const make = async (): Promise<void> => {
    button.disabled = true;
    show(job);
    const reply = await post<{ job: string }>("/api/packet", { batch });
    if (gone) return;
    if (!reply.ok) {
      button.disabled = false;
      return show(job, problemBox(reply.problem, () => void make()));
    }
    undo = jobBar<PacketFiles, unknown>(job, reply.value.job, { done });
  };
  const element = h("div", { class: "packet no-print" }, h("div", { class: "row" }, button, last), job);
  return { element, tell, undo: () => ((gone = true), undo()) };
}
