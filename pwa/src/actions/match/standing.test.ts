import { expect, test } from "vitest";
import type { EventBody, MatchEvent } from "../../api/match";
import type { Row } from "../../store/log";
import { dropped, lastTap, resultsOf, takenBack } from "./standing";

type Rows = Row<MatchEvent>[];
let made = 0;

/** Writes one tap after what is there. */
function tap(rows: Rows, bodies: EventBody[], undo = false, device = "d", rally_number = 1): Rows {
  const name = `tap${rows.length}`;
  const more = bodies.map((body): Row<MatchEvent> => {
    const id = `e${(made += 1)}`;
    return { id, match: "m", n: made, event: { id, device, counter: made, set_number: 1, rally_number, seen: 0, ...body }, tap: name, undo, said: "", position: 0, refused: "" };
  });
  return [...rows, ...more];
}
const undone = (rows: Rows): Rows => {
  const last = lastTap(rows, "d");
  return last ? tap(rows, takenBack(last), true) : rows;
};
const standing = (rows: Rows): string[] => {
  const gone = dropped(rows.map(({ event }) => event));
  return rows.filter(({ id, event }) => event.type !== "retracted" && !gone.has(id)).map(({ event }) => event.type);
};

const WON: EventBody = { type: "rally_won", winner: "us" };
const GRADED: EventBody = { type: "pass_graded", grade: 2 };
const SHOWN: EventBody = { type: "call_shown", spot: { x_m: 0, y_m: -9 }, target: { x_m: 0, y_m: 8 }, kind: "jump_float" };

test("undo takes back one tap with everything it wrote, again and again", () => {
  let rows = tap(tap([], [SHOWN, GRADED]), [WON]);
  rows = undone(rows);
  expect(standing(rows)).toEqual(["call_shown", "pass_graded"]);
  rows = undone(rows);
  expect(standing(rows)).toEqual([]);
  expect(undone(rows)).toBe(rows);
});

test("undo after undo and another tap takes back that tap", () => {
  const rows = undone(tap(undone(tap(tap([], [GRADED]), [WON])), [{ type: "rally_won", winner: "them" }]));
  expect(standing(rows)).toEqual(["pass_graded"]);
});

test("a retraction that was retracted lets the first event stand again", () => {
  const rows = tap([], [WON]);
  const back = tap(rows, [{ type: "retracted", event_id: rows[0]?.id ?? "" }]);
  expect(standing(back)).toEqual([]);
  expect(standing(tap(back, [{ type: "retracted", event_id: back.at(-1)?.id ?? "" }]))).toEqual(["rally_won"]);
});

test("undoing a correction brings back what it replaced", () => {
  const before = tap([], [WON]);
  const corrected = tap(before, [{ type: "retracted", event_id: before[0]?.id ?? "" }, { type: "rally_won", winner: "them" }]);
  expect(dropped(corrected.map(({ event }) => event)).size).toBe(1);
  const rows = undone(corrected);
  expect(rows.filter(({ id, event }) => event.type === "rally_won" && !dropped(rows.map((r) => r.event)).has(id)).map(({ event }) => event)).toMatchObject([{ winner: "us" }]);
});

test("the start of the match is not undone by itself, and undo says what it would take back", () => {
  const rows = tap([], [{ type: "match_opened" }]);
  expect(lastTap(rows, "d")).toBeNull();
  expect(lastTap(tap(rows, [GRADED]), "d")?.said).toBe("pass 2");
});

test("results that stand are counted by set", () => {
  const rows = undone(tap(tap(tap([], [WON]), [{ type: "rally_replayed" }]), [WON]));
  expect(resultsOf(rows, 1)).toBe(2);
  expect(resultsOf(rows, 2)).toBe(0);
});

test("what another device logged is not undone here: the next one is our own", () => {
  const rows = tap(tap([], [GRADED]), [WON], false, "other");
  expect(lastTap(rows, "d")?.said).toBe("pass 2");
  expect(lastTap(rows, "other")?.said).toBe("We won");
});

test("a tap from before a rally that others have logged since is not undone in passing", () => {
  const ours = tap([], [WON], false, "d", 1);
  const theirs = tap(ours, [WON], false, "other", 2);
  expect(lastTap(theirs, "d")).toBeNull();
  const back = tap(theirs, [{ type: "retracted", event_id: theirs.at(-1)?.id ?? "" }], true, "other", 2);
  expect(lastTap(back, "d")?.said).toBe("We won");
  const started = tap([], [{ type: "set_started", serving_first: "us" }]);
  expect(lastTap(started, "d")?.said).toBe("start of set");
  expect(lastTap(tap(started, [WON], false, "other"), "d")).toBeNull(); // the first rally has the same number
});
