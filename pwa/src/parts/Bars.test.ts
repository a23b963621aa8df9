import { expect, test } from "vitest";
import { barPlaces } from "./Bars";

test("bars start at a common zero line and are as long as their values", () => {
  const { zero, bars } = barPlaces([3, -1, 0]);
  expect(zero).toBe(25);
  expect(bars).toEqual([{ start: 25, length: 75 }, { start: 0, length: 25 }, { start: 25, length: 0 }]);
  expect(barPlaces([2, 1]).zero).toBeCloseTo(0, 9);
});
