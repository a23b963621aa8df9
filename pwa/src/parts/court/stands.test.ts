import { expect, test } from "vitest";
import type { Spot } from "../../api/types";
import { stands } from "./stands";

const spot = (name: Spot["name"], x_m: number): Spot => ({ name, x_m, y_m: -9.2 });
// nine spots, 1.1 m apart, reach both ends of a service zone 9 m wide (FIVB 1.4.2)
const NINE = [spot("left_corner", -4.4), spot("left", -3.3), spot("left", -2.2), spot("left", -1.1), spot("middle", 0),
  spot("right", 1.1), spot("right", 2.2), spot("right", 3.3), spot("right_corner", 4.4)];

test("each of the five spots stands for its name where the end line has it", () => {
  expect(stands(NINE).map(({ x_m }) => x_m)).toEqual([-4.4, -2.2, 0, 2.2, 4.4]);
});

test("a server who cannot use a spot has no place there", () => {
  expect(stands(NINE.slice(3)).map(({ name }) => name)).toEqual(["left", "middle", "right", "right_corner"]);
});
