import { expect, test } from "vitest";
import { placeInWords } from "./words";

test("a place in words is told from the server's side", () => {
  const units = { length: "m", speed: "km/h" } as const;
  expect(placeInWords({ x_m: 2.9, y_m: 6.3 }, units, 9)).toBe("6.3 m off the net, 2.9 m to our right");
  expect(placeInWords({ x_m: -4.4, y_m: -9.2 }, units, 9)).toBe("0.2 m behind the service line, 4.4 m to our left");
  expect(placeInWords({ x_m: 0, y_m: 1 }, { ...units, length: "ft" }, 9)).toBe("3.3 ft off the net, in the middle");
});
