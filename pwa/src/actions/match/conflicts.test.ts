import { expect, test } from "vitest";
import type { Contradiction, EventBody, MatchEvent } from "../../api/match";
import type { Row } from "../../store/log";
import { conflictInWords, conflictsOf } from "./conflicts";

type Rows = readonly Row<MatchEvent>[];

/** A row at a position (0: not sent yet), by a device that had seen the log up to `seen`. */
const row = (id: string, device: string, position: number, seen: number, body: EventBody, rally_number = 3): Row<MatchEvent> =>
  ({ id, match: "m", n: 0, event: { id, device, counter: 0, set_number: 1, rally_number, seen, ...body }, tap: id, undo: false, said: "", position, refused: "" });

const contradiction = (code: string, event_id: string, expected: unknown, seen: unknown): Contradiction =>
  ({ code, event_id, side: null, set_number: 1, rally_number: 3, expected, seen, text: "" });

const only = (rows: Rows, said: readonly Contradiction[] = []) => {
  const [conflict, ...more] = conflictsOf(rows, said, "mine");
  expect(more).toEqual([]);
  if (!conflict) throw new Error("no conflict");
  return conflict;
};

test("two results: whoever settles takes both back and says the chosen anew, with the details of both", () => {
  const rows = [row("a", "other", 1, 0, { type: "rally_won", winner: "them", grade: 2 }), row("b", "mine", 0, 0, { type: "rally_won", winner: "us", passer: 9 })];
  const conflict = only(rows, [contradiction("conflicting_result", "b", "them", "us")]);
  const at = { set_number: 1, rally_number: 3 };
  const back = [{ type: "retracted", event_id: "b", at }, { type: "retracted", event_id: "a", at }];
  expect(conflict.counted.settles).toEqual([...back, { type: "rally_won", winner: "them", grade: 2, passer: 9, at }]);
  expect(conflict.other.settles).toEqual([...back, { type: "rally_won", winner: "us", grade: 2, passer: 9, at }]);
  expect(conflictInWords(conflict, 1)).toBe("Rally 3: this phone says we won, another says they won. Counted: they won.");
  expect(conflictInWords(conflict, 2)).toMatch(/^Set 1, rally 3: /);
});

test("a missed serve is said anew without the details of a rally that was played", () => {
  const rows = [row("a", "other", 1, 0, { type: "rally_won", winner: "us", grade: 3 }), row("b", "mine", 0, 0, { type: "rally_won", winner: "them", ending: "service_error", error: "net" })];
  const conflict = only(rows, [contradiction("conflicting_result", "b", "us", "them")]);
  expect(conflict.other.settles.at(-1)).toEqual({ type: "rally_won", winner: "them", ending: "service_error", error: "net", at: { set_number: 1, rally_number: 3 } });
});

test("two grades: the other details and the result stay as they are", () => {
  const rows = [
    row("a", "other", 1, 0, { type: "pass_graded", grade: 1, passer: 9 }), row("b", "mine", 2, 0, { type: "pass_graded", grade: 3, first_ball: "attack" }),
    row("c", "mine", 3, 1, { type: "rally_won", winner: "us" }),
  ];
  const conflict = only(rows, [contradiction("conflicting_part", "b", 1, 3)]);
  const at = { set_number: 1, rally_number: 3 };
  expect(conflict.other.settles).toEqual([
    { type: "retracted", event_id: "b", at }, { type: "retracted", event_id: "a", at }, { type: "serve_noted", grade: 3, first_ball: "attack", passer: 9, at },
  ]);
  expect(conflictInWords(conflict, 1)).toBe("Rally 3: this phone says pass 3: all choices, another says pass 1: one choice. Counted: pass 1: one choice.");
});

test("two substitutions for one player that did not know of each other are a conflict, though the engine lets both stand", () => {
  const rows = [row("a", "other", 5, 4, { type: "substituted", side: "us", enters: 21, leaves: 7 }), row("b", "mine", 6, 4, { type: "substituted", side: "us", enters: 22, leaves: 7 })];
  const conflict = only(rows, [contradiction("not_on_court", "b", null, 7)]);
  expect([conflict.counted.label, conflict.other.label]).toEqual(["#21 in for #7", "#22 in for #7"]);
  expect(conflict.ids).toEqual(["a", "b"]);
});

test("one substitution logged in two rallies is a conflict too", () => {
  const swap: EventBody = { type: "substituted", side: "us", enters: 21, leaves: 7 };
  expect(only([row("a", "other", 5, 4, swap, 3), row("b", "mine", 0, 4, swap, 4)]).other.label).toBe("#21 in for #7");
});

test("the same substitution in the same rally, and one that knew of the other, are none", () => {
  const swap: EventBody = { type: "substituted", side: "us", enters: 21, leaves: 7 };
  const back: EventBody = { type: "substituted", side: "us", enters: 7, leaves: 21 };
  expect(conflictsOf([row("a", "other", 5, 4, swap), row("b", "mine", 0, 4, swap)], [], "mine")).toEqual([]);
  expect(conflictsOf([row("a", "other", 5, 4, swap), row("b", "mine", 0, 5, back)], [], "mine")).toEqual([]);
});

test("two corrections of the score that did not know of each other: both were put in, and one can be chosen", () => {
  const rows = [row("a", "other", 5, 4, { type: "score_corrected", us: 4, them: 3 }), row("b", "mine", 0, 4, { type: "score_corrected", us: 3, them: 4 })];
  const conflict = only(rows);
  expect(conflictInWords(conflict, 1)).toContain("Both were put in, one after the other.");
  expect(conflict.counted.settles).toHaveLength(3);
});

test("what was taken back is at odds with nothing", () => {
  const rows = [
    row("a", "other", 1, 0, { type: "score_corrected", us: 4, them: 3 }), row("b", "mine", 2, 0, { type: "score_corrected", us: 3, them: 4 }),
    row("c", "mine", 3, 2, { type: "retracted", event_id: "b" }),
  ];
  expect(conflictsOf(rows, [], "mine")).toEqual([]);
});
