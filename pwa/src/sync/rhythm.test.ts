import { expect, test } from "vitest";
import { pauseAfter } from "./rhythm";

test("after a success the next turn comes within some seconds", () => {
  expect([pauseAfter(0, 0, 0), pauseAfter(0, 0, 1)]).toEqual([3750, 6250]);
});

test("failures double the pause up to a minute, spread by a quarter", () => {
  expect([1, 2, 3, 4, 5, 6, 7, 99].map((failures) => pauseAfter(failures, 0, 0.5))).toEqual([1000, 2000, 4000, 8000, 16_000, 32_000, 60_000, 60_000]);
  expect([pauseAfter(9, 0, 0), pauseAfter(9, 0, 1)]).toEqual([45_000, 75_000]);
});

test("what the service asks for is kept", () => {
  expect(pauseAfter(1, 120, 0.5)).toBe(120_000);
});
