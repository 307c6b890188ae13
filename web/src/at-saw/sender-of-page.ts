// sender-of-page.ts - one sender for as long as the page lives: readings go on their way also when another view is looked at.
import { startSender, type Sender, type SenderEars } from "./sender";

const NOBODY: SenderEars = { changed: () => undefined, answered: () => undefined };
let ears = NOBODY;
let sender: Sender | null = null;

function started(): Sender {
  sender ??= startSender({ changed: () => ears.changed(), answered: (answer, entry) => ears.answered(answer, entry) });
  return sender;
}

// What was read before the page was last closed goes on its way, whatever view is opened.
export function sendWhatWaits(): void {
  started();
}

export function senderOfPage(listener: SenderEars): { sender: Sender; leave: () => void } {
  ears = listener;
  const running = sender !== null;
  const own = started();
  if (running) queueMicrotask(own.wake);
  return {
    sender: own,
    leave: () => {
      if (ears === listener) ears = NOBODY;
    },
  };
}
