import { expect, test } from "vitest";
import type { Player, Position, Situation } from "../api/types";
import { handlesOf, withMoved } from "./move";
import { START, type Question } from "./question";

const box = { x_min_m: -4.5, x_max_m: 4.5, y_min_m: 0, y_max_m: 9 };
const by = { x_min_m: "the sideline", x_max_m: "the sideline", y_min_m: "the net", y_max_m: "the end line" };
const player = (position: Position, role: Player["role"], x_m: number, y_m: number): Player => ({
  position, role, x_m, y_m, number: null, label: String(position), limits: { ...box, by }, pass_grade: null, passes: null,
});
const situation: Situation = {
  level: "high_school", net_height_m: 2.24, service_line_m: 9, setter_position: 4, setter_row: "front",
  setter_start: { x_m: 3, y_m: 1 }, pass_target: { x_m: -1, y_m: 1 }, pass_target_limits: box, setter_faces: "left", system: "one_setter", formation: "three", ball: "match",
  players: [
    player(1, "passer", -2.9, 6.3), player(2, "other", -3.8, 1), player(3, "other", 0, 1),
    player(4, "setter", 3, 1), player(5, "passer", 2.9, 6.3), player(6, "passer", 0, 6.7),
  ],
  server: {
    kind: "standing_float", speeds_m_s: [15], contact_height_m: 2.4, contact_inside_m: 0.2, spin_rev_s: 0.5,
    scatter: { across_m: 0.8, along_m: 1.2 }, has_short_float: false,
    spot_limits: { x_min_m: -4.5, x_max_m: 4.5, y_min_m: -12, y_max_m: -9 }, spots: [],
  },
};
const answer = { situation, best: { spot: { name: "left_corner", x_m: -4.4, y_m: -9.2 } } } as const;
const question: Question = { ...START, setter: 4 };
const to = { x_m: 0.5, y_m: 7 };

test("setter, passers, pass target and server can be moved, the others not", () => {
  expect(handlesOf(answer, question).map(({ key }) => key)).toEqual(["passer-1", "setter", "passer-5", "passer-6", "target", "server"]);
});

test("one passer moves, and all are sent so that the others stay", () => {
  const passers = withMoved(question, answer, "passer-6", to).places[4]?.passers;
  expect(passers).toEqual([{ x_m: -2.9, y_m: 6.3, position: 1 }, { x_m: 2.9, y_m: 6.3, position: 5 }, { ...to, position: 6 }]);
});

test("moving a second passer keeps the first where she was put", () => {
  const once = withMoved(question, answer, "passer-6", to);
  const twice = withMoved(once, answer, "passer-1", { x_m: -3, y_m: 6 });
  expect(twice.places[4]?.passers?.find((p) => p.position === 6)).toMatchObject(to);
});

test("setter, target and server each move their own", () => {
  expect(withMoved(question, answer, "setter", to).places[4]).toEqual({ setter_start: to });
  expect(withMoved(question, answer, "target", to).pass_target).toEqual(to);
  expect(withMoved(question, answer, "server", to).spot).toEqual(to);
});

test("a handle stands where it was moved to, before the answer says so", () => {
  const moved = withMoved(question, answer, "passer-6", to);
  expect(handlesOf(answer, moved).find(({ key }) => key === "passer-6")?.place).toMatchObject(to);
  expect(handlesOf(answer, { ...moved, setter: 5 }).find(({ key }) => key === "passer-6")?.place).toMatchObject({ x_m: 0, y_m: 6.7 });
});
