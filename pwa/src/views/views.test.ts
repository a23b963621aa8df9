import { expect, test } from "vitest";
import { START } from "../actions/question";
import { verdict } from "./CompareView";
import { neighbour } from "./ServerView";
import { stale } from "./shown";

const side = (spot: "left_corner" | "right_corner", words: string, keep: number) => ({ best: { keep, spot: { name: spot, x_m: 0, y_m: -9.2 }, words: { spot: words } } });

test("the verdict names the better spot and by how much", () => {
  expect(verdict([side("left_corner", "Left corner", 0.49), side("right_corner", "Right corner", 0.5625)])).toBe("Right corner wins 7.3 more in 100.");
  expect(verdict([side("left_corner", "Left corner", 0.56), side("right_corner", "Right corner", 0.5)])).toBe("Left corner wins 6.0 more in 100.");
});

test("within one point two spots are as good as each other", () => {
  expect(verdict([side("left_corner", "Left corner", 0.5), side("right_corner", "Right corner", 0.506)])).toBe("As good as each other: 0.6 in 100 apart.");
  expect(verdict([side("left_corner", "Left corner", 0.5), side("left_corner", "Left corner", 0.5)])).toBe("The same spot twice.");
});

test("setter positions go round", () => {
  expect([neighbour(6, 1), neighbour(1, -1), neighbour(3, 1)]).toEqual([1, 6, 4]);
});

test("what is on show greys when it may be out of date, and not for a quick answer", () => {
  const shown = { answered: { ...START, setter: 1 as const }, question: { ...START, setter: 2 as const }, gone: false, refused: null, waiting: false };
  expect(stale(shown)).toBe(false);
  expect(stale({ ...shown, waiting: true })).toBe(true);
  expect(stale({ ...shown, gone: true, question: shown.answered })).toBe(true);
  expect(stale({ ...shown, waiting: true, question: shown.answered })).toBe(false);
});
