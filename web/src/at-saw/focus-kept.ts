// focus-kept.ts - what had the focus has it again after the face was drawn anew, so that who goes by the keyboard goes on.

function nameOf(element: Element): string {
  return element.getAttribute("aria-label") ?? element.textContent ?? "";
}

//   returns  gives the focus back: to the same element if it is still shown, else to the one of its kind and name
export function focusKept(host: HTMLElement): () => void {
  const held = document.activeElement;
  if (!(held instanceof HTMLElement) || !host.contains(held)) return () => undefined;
  const name = nameOf(held);
  return () => {
    if (document.activeElement === held) return;
    const twins = [...host.querySelectorAll<HTMLElement>(held.tagName)].filter((e) => nameOf(e) === name);
    (held.isConnected ? held : twins[0])?.focus({ preventScroll: true });
  };
}
