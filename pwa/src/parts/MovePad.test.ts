import { expect, test } from "vitest";
import { heldBy } from "./MovePad";

test("who holds a player back is told for the sides she has reached", () => {
  const by = { x_min_m: "the player in 1", x_max_m: "the player in 5", y_min_m: "the net", y_max_m: "the end line" };
  const limits = { x_min_m: -2.9, x_max_m: 2.9, y_min_m: 0, y_max_m: 9, by };
  expect(heldBy({ key: "passer-6", name: "Passer 6", place: { x_m: 2.9, y_m: 7 }, limits })).toEqual(["the player in 5"]);
  expect(heldBy({ key: "passer-6", name: "Passer 6", place: { x_m: 0, y_m: 7 }, limits })).toEqual([]);
});
