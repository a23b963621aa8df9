import { expect, test } from "vitest";
import type { Policy } from "../api/types";
import { barPlaces } from "./Bars";
import { neighbours } from "./Ceiling";
import { faultInWords, fieldInWords } from "./faults";
import { handPaths } from "./Hand";
import { heldBy } from "./MovePad";
import { poseInWords } from "./Signal";
import { placeInWords } from "./words";

const step = (error_ceiling: number | null, points_per_100: number, met = true) => ({ error_ceiling, points_per_100, met, p_error: 0.1 });
const policy = (error_ceiling: number | null): Policy => ({
  error_ceiling, met: true, least_error: 0.08, start_error_ceiling: 0.12, break_even_error: null, text: "",
  steps: [step(0.06, -2, false), step(0.08, -1), step(0.1, -0.3), step(0.12, 0), step(0.15, 0.1), step(null, 0.4)],
});

test("safer and bolder are the nearest steps to either side", () => {
  const { safer, bolder } = neighbours(policy(0.12));
  expect([safer?.error_ceiling, bolder?.error_ceiling]).toEqual([0.1, 0.15]);
});

test("nothing is bolder than no ceiling, and nothing safer than what cannot be met", () => {
  expect(neighbours(policy(null)).bolder).toBeUndefined();
  expect(neighbours(policy(null)).safer?.error_ceiling).toBe(0.15);
  expect(neighbours(policy(0.08)).safer).toBeUndefined();
});

test("bars start at a common zero line and are as long as their values", () => {
  const { zero, bars } = barPlaces([3, -1, 0]);
  expect(zero).toBe(25);
  expect(bars).toEqual([{ start: 25, length: 75 }, { start: 0, length: 25 }, { start: 25, length: 0 }]);
  expect(barPlaces([2, 1]).zero).toBeCloseTo(0, 9);
});

test("every pose of the hand is drawn differently", () => {
  const poses = Array.from({ length: 32 }, (_, n) => [1, 2, 4, 8, 16].map((bit) => (n & bit) !== 0));
  const drawn = new Set(poses.map((pose) => JSON.stringify(handPaths(pose))));
  expect(drawn.size).toBe(32);
});

test("poses in words", () => {
  expect(poseInWords([false, false, false, false, false])).toBe("fist");
  expect(poseInWords([true, true, true, true, true])).toBe("open hand");
  expect(poseInWords([false, true, true, false, false])).toBe("index, middle");
});

test("a fault names the field and what is expected, in plain words", () => {
  expect(faultInWords({ field: "opponent.setter_position", value: 7, expected: "a whole number from 1 to 6", rule: "schema" }))
    .toBe("For their setter’s position it needs a whole number from 1 to 6, not 7.");
  expect(faultInWords({ field: "", value: { a: 1 }, expected: "an object", rule: "schema" })).toBe("For what was sent it needs an object.");
  expect(fieldInWords("opponent.passers.1.x_m")).toBe("passer 2 of those sent");
  expect(fieldInWords("server.speeds_m_s")).toBe("server speeds m s");
});

test("a place in words is told from the server's side", () => {
  const units = { length: "m", speed: "km/h" } as const;
  expect(placeInWords({ x_m: 2.9, y_m: 6.3 }, units, 9)).toBe("6.3 m off the net, 2.9 m to our right");
  expect(placeInWords({ x_m: -4.4, y_m: -9.2 }, units, 9)).toBe("0.2 m behind the service line, 4.4 m to our left");
  expect(placeInWords({ x_m: 0, y_m: 1 }, { ...units, length: "ft" }, 9)).toBe("3.3 ft off the net, in the middle");
});

test("who holds a player back is told for the sides she has reached", () => {
  const by = { x_min_m: "the player in 1", x_max_m: "the player in 5", y_min_m: "the net", y_max_m: "the end line" };
  const limits = { x_min_m: -2.9, x_max_m: 2.9, y_min_m: 0, y_max_m: 9, by };
  expect(heldBy({ key: "passer-6", name: "Passer 6", place: { x_m: 2.9, y_m: 7 }, limits })).toEqual(["the player in 5"]);
  expect(heldBy({ key: "passer-6", name: "Passer 6", place: { x_m: 0, y_m: 7 }, limits })).toEqual([]);
});
