import { expect, test } from "vitest";
import type { RallyRecord } from "../../api/match";
import { ace, missed, restated } from "./taps";

const RECORD: RallyRecord = {
  rally_number: 7, serving: "us", server: 12, points_before: { us: 3, them: 3 }, rotations: { us: 0, them: 0 }, setter_positions: { us: 1, them: 4 },
  called: null, grade: 2, error: null, first_ball: null, passer: 8, landing: null, spot: null, kind: null, speed_m_s: null,
  winner: "them", ending: null, cancelled: false, events: ["call", "graded", "passer", "won"],
};

test("a miss gives the point to the other side, an ace to the server's", () => {
  expect(missed("us")).toEqual({ type: "rally_won", winner: "them", ending: "service_error" });
  expect(missed("them")).toEqual({ type: "rally_won", winner: "us", ending: "service_error" });
  expect(ace("them")).toEqual({ type: "rally_won", winner: "them", ending: "ace" });
});

test("a rally is restated in one event, with all that was known of it, the call left alone", () => {
  expect(restated(RECORD, new Set(["call"]), { winner: "us" })).toEqual([
    { type: "retracted", event_id: "won" }, { type: "retracted", event_id: "passer" }, { type: "retracted", event_id: "graded" },
    { type: "rally_won", winner: "us", grade: 2, passer: 8 },
  ]);
});

test("a rally without a result is restated without one", () => {
  expect(restated({ ...RECORD, winner: null }, new Set(["call"]), { parts: { grade: 3 } }).at(-1)).toEqual({ type: "serve_noted", grade: 3, passer: 8 });
});

test("a part given as null is taken out, and an ending can be put in or out", () => {
  const missedIt = restated(RECORD, new Set(), { winner: "them", ending: "service_error", parts: { grade: null, passer: null } });
  expect(missedIt.at(-1)).toEqual({ type: "rally_won", winner: "them", ending: "service_error" });
  expect(restated({ ...RECORD, ending: "ace", winner: "us" }, new Set(), { ending: null }).at(-1)).not.toHaveProperty("ending");
});
