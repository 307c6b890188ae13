import { expect, it } from "vitest";
import { eventsBox } from "../../src/ledger/events";

it("a truing that looked at the miter alone is told, and what it did not look at is named so", () => {
  const none = { tilt_deg: null, tilt_u_deg: null, roll_deg: null, roll_u_deg: null, pitch_deg: null, pitch_u_deg: null };
  const truing = { id: 1, at: "2031-02-04T18:30:05Z", by: "", note: "", withdrawn: false, miter_deg: -0.0012, miter_u_deg: 0.0022, ...none };
  const box = eventsBox({ truings: [truing], leaves: [] }, (id) => id)!;
  expect([...box.querySelectorAll("td")].slice(1, 5).map((td) => td.textContent))
    .toEqual(["\u22120.001\u00b0 (u = 0.002\u00b0)", "not looked at", "not looked at", "not looked at"]);
});

it("a leaf is told by what is marked on it", () => {
  const leaf = { id: 3, at: "2031-02-04T18:30:05Z", by: "", note: "", withdrawn: false, setup: "prism", stop: 1, thickness_mm: 0.1 };
  expect(eventsBox({ truings: [], leaves: [leaf] }, (id) => id)!.textContent).toContain("leaf 0.10 mm");
});
