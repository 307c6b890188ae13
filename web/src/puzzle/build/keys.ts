// keys.ts - undo and redo from the keyboard. In a field that is typed into, these keys belong to the field.

function inField(target: EventTarget | null): boolean {
  return target instanceof HTMLTextAreaElement ||
    (target instanceof HTMLInputElement && (target.type === "text" || target.type === "number"));
}

//   returns  its undo
export function historyKeys(back: () => void, forth: () => void): () => void {
  const onKey = (event: KeyboardEvent): void => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || inField(event.target)) return;
    const key = event.key.toLowerCase();
    if (key !== "z" && key !== "y") return;
    event.preventDefault();
    if (key === "y" || event.shiftKey) forth();
    else back();
  };
  document.addEventListener("keydown", onKey);
  return () => document.removeEventListener("keydown", onKey);
}
