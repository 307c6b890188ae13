// folder-notice.ts - what the folder has to say above every view: files that cannot be read, files written since.
import { get } from "../api";
import { h, show } from "../dom";
import { change, current, type FolderView } from "../state";
import { problemBox } from "./notice";

export interface FolderNotice {
  element: HTMLElement;
  drawn(): void; // a view was asked for anew: it has read the files as they are
}

// A batch with a quote missing is no batch to choose, so that it would only seem to be gone.
function brokenBox(folder: FolderView): HTMLElement {
  const one = folder.broken.length === 1;
  return h("details", { class: "warning", open: folder.batches.length === 0 },
    h("summary", {}, one ? `${folder.broken[0]!.file} cannot be read` : `${folder.broken.length} files cannot be read`),
    folder.broken.map((b) => problemBox(b)));
}

//   taken  the folder as it is now
//   again  draws the view anew
export function folderNotice(taken: (folder: FolderView) => void, again: () => void): FolderNotice {
  const element = h("div", { class: "folder-notice no-print" });
  let written = false; // since the view was drawn
  let asking = false;

  const draw = (): void => {
    const { folder } = current();
    const anew = (): void => {
      written = false;
      draw();
      again();
    };
    show(element, folder !== null && folder.broken.length > 0 && brokenBox(folder),
      written && h("div", { class: "warning", role: "status" }, h("p", {}, "Files in the folder were written since. What stands here may be older."),
        h("button", { type: "button", onclick: anew }, "Show it as the files are now")));
  };
  const look = async (): Promise<void> => {
    const before = current().folder;
    if (asking || before === null || document.visibilityState === "hidden") return;
    asking = true;
    const reply = await get<FolderView>("/api/folder");
    asking = false;
    if (!reply.ok || reply.value.version === before.version || current().folder !== before) return;
    change({ folder: reply.value });
    written = true;
    draw();
    taken(reply.value);
  };
  // Whoever wrote a file was in another window, and comes back from it.
  window.addEventListener("focus", () => void look());
  document.addEventListener("visibilitychange", () => void look());
  draw();
  return {
    element,
    drawn: () => {
      written = false;
      draw();
    },
  };
}
