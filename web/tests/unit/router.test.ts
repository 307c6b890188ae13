import { expect, it } from "vitest";
import { hashOf, parsePlace, type Place } from "../../src/router";

it("an address and the place it means are one another's inverse", () => {
  const places: Place[] = [
    { view: "puzzle", part: "", query: {} },
    { view: "saw", part: "center-block", query: { batch: "spring/batch one.toml" } },
    { view: "at-saw", part: "a/b", query: { batch: "100%.toml", stop: "2" } },
  ];
  for (const place of places) expect(parsePlace(hashOf(place))).toEqual(place);
});

it("a broken address is a place that is not there, and no error", () => {
  expect(parsePlace("#/saw/%zz").part).toBe("%zz");
});

it("an empty address is no view", () => {
  expect(parsePlace("").view).toBe("");
  expect(parsePlace("#/").view).toBe("");
});
