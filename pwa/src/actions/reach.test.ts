import { expect, test } from "vitest";
import { asFarAs, lastReached } from "./reach";

test("the mark stops a foot's length before the end of the reach, on the way to where it was aimed", async () => {
  const place = await lastReached({ x_m: 0, y_m: 5 }, { x_m: 4, y_m: 9 }, async ({ y_m }) => y_m <= 7.1);
  expect(place.y_m).toBeLessThanOrEqual(7.1);
  expect(place.y_m).toBeGreaterThan(7.1 - 0.3);
  expect(place.x_m).toBeCloseTo(place.y_m - 5, 9); // on the straight line between the two
});

test("where nothing beyond is reached it stays where it is reached", async () => {
  const reached = { x_m: 1, y_m: 2 };
  expect(await lastReached(reached, { x_m: 1, y_m: 0.3 }, async () => false)).toEqual(reached);
});

test("a serve in another direction goes as far as the best one", () => {
  expect(asFarAs({ x_m: 0, y_m: -9 }, { x_m: 0, y_m: 9 }, { x_m: 9, y_m: 3 })).toEqual({ x_m: 0, y_m: 6 }); // 15 m: the triangle of 9, 12 and 15
});
