import { expect, test } from "vitest";
import { handPaths } from "./Hand";
import { poseInWords } from "./Signal";

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
