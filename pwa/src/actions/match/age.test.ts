import { expect, test } from "vitest";
import type { MatchEvent } from "../../api/match";
import type { Row } from "../../store/log";
import { ageOf, inAges, onlyReads } from "./age";

const at = (wall_ms: number, steady_ms: number | null) => ({ wall_ms, steady_ms });

test("an age is what the steady count says, when the clock is put back", () => {
  expect(ageOf(at(10_000, 500), at(2000, 70_500))).toBe(70_000);
});

test("an age is what the clock says, when the count has slept", () => {
  expect(ageOf(at(10_000, 500), at(130_000, 900))).toBe(120_000);
});

test("an age from an earlier page is not known once the clock was put back", () => {
  expect(ageOf(at(10_000, null), at(2000, 70_500))).toBeNull();
  expect(inAges(null)).toBe("some time ago");
});

test.each([[14_999, "just now"], [59_999, "59 s ago"], [60_000, "1 min ago"], [3_599_999, "59 min ago"], [7_200_000, "2 h ago"], [172_800_000, "2 days ago"]])("%i ms is %s", (ms, words) => {
  expect(inAges(ms)).toBe(words);
});

const row = (id: string, device: string, body: object): Row<MatchEvent> =>
  ({ id, match: "m", n: 0, event: { id, device, counter: 0, set_number: 1, rally_number: 1, seen: 0, ...body } as MatchEvent, tap: id, undo: false, said: "", position: 0, refused: "" });

test("who logged the last result that stands keeps the score; the others only read", () => {
  const rows = [row("a", "mine", { type: "rally_won", winner: "us" }), row("b", "theirs", { type: "rally_won", winner: "us" }), row("c", "mine", { type: "pass_graded", grade: 2 })];
  expect([onlyReads(rows, "mine"), onlyReads(rows, "theirs")]).toEqual([true, false]);
  expect(onlyReads([...rows, row("d", "theirs", { type: "retracted", event_id: "b" })], "mine")).toBe(false);
});
