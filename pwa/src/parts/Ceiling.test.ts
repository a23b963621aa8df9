import { expect, test } from "vitest";
import type { Policy } from "../api/types";
import { neighbours } from "./Ceiling";

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
