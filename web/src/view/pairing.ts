// pairing.ts - a phone in the shop says the code that the desk shows, once.
import { post } from "../api";
import { field, h, show } from "../dom";
import { problemBox } from "./notice";

export function askForCode(host: HTMLElement, paired: () => void): void {
  const code = h("input", { inputmode: "numeric", autocomplete: "one-time-code", maxlength: 6, required: true, class: "code" });
  const answer = h("div", {});
  const send = async (): Promise<void> => {
    const reply = await post("/api/pair", { code: code.value.trim() });
    if (reply.ok) return paired();
    show(answer, problemBox(reply.problem));
    code.select();
  };
  const form = h(
    "form",
    {
      class: "pairing",
      onsubmit: (event: Event) => {
        event.preventDefault();
        void send();
      },
    },
    h("h2", {}, "Pair this device"),
    h("p", {}, "The program shows a code of six digits where it was started, and on the page at the desk."),
    field("Code", code),
    h("button", { class: "main" }, "Pair"),
    answer,
  );
  show(host, form);
  code.focus();
}
