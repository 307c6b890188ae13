// sender-of-page.ts - one sender for as long as the page lives: readings go on their way also when another view is looked at.
import { startSender, type Sender, type SenderEars } from "./sender";

const NOBODY: SenderEars = { changed: () => undefined, answered: () => undefined };
let ears = NOBODY;
let sender: Sender | null = null;

export function senderOfPage(listener: SenderEars): { sender: Sender; leave: () => void } {
  ears = listener;
  if (sender) queueMicrotask(sender.wake);
  else sender = startSender({ changed: () => ears.changed(), answered: (answer, entry) => ears.answered(answer, entry) });
  return {
    sender,
    leave: () => {
      if (ears === listener) ears = NOBODY;
    },
  };
}
