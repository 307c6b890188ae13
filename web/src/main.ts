// main.ts - the frame of the page: which batch, which view, which units; draws one view at a time.
import "./style.css";
import { get } from "./api";
import { atSawView } from "./at-saw";
import { sendWhatWaits } from "./at-saw/sender-of-page";
import { batchView } from "./batch";
import { h, show } from "./dom";
import { fitView } from "./fit";
import { ledgerView } from "./ledger";
import { puzzleView } from "./puzzle";
import { go, hashOf, here, type Place } from "./router";
import { sawView } from "./saw";
import { change, current, onChange, type FolderView } from "./state";
import { toolbar } from "./view/toolbar";
import { folderNotice, type FolderNotice } from "./view/folder-notice";
import { askForCode } from "./view/pairing";
import { announce, problemBox, waitBox } from "./view/notice";
import type { View } from "./view/view";

const views: readonly View[] = [puzzleView, sawView, atSawView, batchView, fitView, ledgerView];

const page = document.getElementById("page") as HTMLElement;
const nav = h("nav", { "aria-label": "views" });
const bar = h("div", { class: "bar" });
const header = h("header", {}, nav, bar);
const heading = h("h1", { tabindex: -1 });
const host = h("div", { class: "view" });
const main = h("main", { id: "main" }, heading, host);
show(page, header, main);

let notice: FolderNotice | null = null;
let shown: View | null = null;
let undo: () => void = () => undefined;

function drawNav(view: View): void {
  const link = (v: View): HTMLElement =>
    h("a", { href: hashOf({ view: v.id }), "aria-current": v === view ? "page" : null }, v.title);
  show(nav, h("ul", {}, views.map((v) => h("li", {}, link(v)))));
}

function mount(view: View, place: Place): void {
  undo();
  undo = () => undefined;
  show(host);
  notice?.drawn();
  document.body.classList.toggle("bare", view.bare === true);
  document.title = `${view.title} - stickwright`;
  heading.textContent = view.title;
  drawNav(view);
  const moved = shown !== null && shown !== view;
  shown = view;
  undo = view.mount(host, place);
  if (moved) heading.focus({ preventScroll: true });
}

function follow(): void {
  const place = here();
  const view = views.find((v) => v.id === place.view);
  if (!view) return go({ view: views[0]!.id });
  if (place.query["batch"]) change({ batch: place.query["batch"] });
  if (place.query["design"]) change({ design: place.query["design"] });
  if (view === shown && view.moved) view.moved(place);
  else mount(view, place);
}

function again(): void {
  if (shown) mount(shown, here());
}

// The batch and design that were open last, if they are still there; else the first.
function choose(folder: FolderView): void {
  const { batch, design } = current();
  const batches = folder.batches.map((b) => b.file);
  const chosen = batches.includes(batch) ? batch : (batches[0] ?? "");
  const designs = folder.designs.map((d) => d.file);
  const first = folder.batches.find((b) => b.file === chosen)?.designs[0] ?? designs[0] ?? "";
  change({ folder, batch: chosen, design: designs.includes(design) ? design : first });
}

async function start(): Promise<void> {
  show(host, waitBox("Looking into the folder."));
  const folder = await get<FolderView>("/api/folder");
  if (!folder.ok && folder.status === 401) return askForCode(host, start);
  if (!folder.ok) return show(host, problemBox(folder.problem, () => void start()));
  choose(folder.value);
  sendWhatWaits();
  show(bar, toolbar());
  notice = folderNotice(choose, again);
  show(main, heading, notice.element, host);
  if (folder.value.designs.length + folder.value.batches.length + folder.value.broken.length === 0)
    announce("The folder is empty.");
  window.addEventListener("hashchange", follow);
  onChange((_, changed) => {
    if (changed.includes("batch")) again();
    else if (changed.includes("units") || changed.includes("theme")) shown?.redraw ? shown.redraw() : again();
    if (changed.includes("folder")) show(bar, toolbar());
  });
  follow();
}

void start();
