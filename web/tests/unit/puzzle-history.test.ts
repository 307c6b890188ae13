import { describe, expect, it } from "vitest";
import { begin, record, redo, undo, type History } from "../../src/puzzle/build/history";

// A small generator with a fixed seed, so that a failure comes again (Numerical Recipes' quick one, from memory).
function dice(seed: number): (sides: number) => number {
  let state = seed;
  return (sides) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * sides);
  };
}

describe("undo and redo", () => {
  it("do what a list with a place in it does, whatever is pressed", () => {
    for (let seed = 1; seed <= 20; ++seed) {
      const roll = dice(seed);
      const list = [0];
      let at = 0;
      let history: History<number> = begin(0);
      for (let k = 0; k < 150; ++k) {
        const press = roll(3);
        if (press === 0) {
          list.splice(at + 1, list.length, k + 1);
          history = record(history, ++at && k + 1);
        } else if (press === 1) {
          at = Math.max(0, at - 1);
          history = undo(history);
        } else {
          at = Math.min(list.length - 1, at + 1);
          history = redo(history);
        }
        expect(history.now).toBe(list[at]);
      }
    }
  });

  it("are one another's inverse", () => {
    const history = record(record(begin("a"), "b"), "c");
    expect(redo(undo(history))).toMatchObject({ past: ["a", "b"], now: "c", future: [] });
  });

  it("take a word that was typed as one change", () => {
    let history = begin({ name: "" });
    for (const name of ["w", "wi", "win", "wing"]) history = record(history, { name }, "name");
    expect(undo(history).now.name).toBe("");
    history = record(history, { name: "wing 2" }, "other");
    expect(undo(history).now.name).toBe("wing");
  });

  it("do not run typing before an undo together with typing after it", () => {
    let history = record(record(begin(""), "one", "name"), "one two", "block");
    history = record(undo(history), "one three", "name");
    expect(undo(history).now).toBe("one");
  });

  it("leave out changes that change nothing", () => {
    const history = begin({ blocks: [1] });
    expect(record(history, { blocks: [1] })).toBe(history);
    expect(undo(history)).toBe(history);
    expect(redo(history)).toBe(history);
  });

  it("keep a bounded past", () => {
    let history = begin(0);
    for (let k = 1; k <= 1000; ++k) history = record(history, k);
    expect(history.past.length).toBeLessThanOrEqual(200);
    expect(undo(history).now).toBe(999);
  });
});
