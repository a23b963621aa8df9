import { expect, test } from "vitest";
import { inUnits, length, MINUS, netHeight, plain, signed, speed } from "./units";

test("a foot is 0.3048 m and a mile 1609.344 m (international yard and pound agreement, 1959)", () => {
  expect(length(0.3048, "ft")).toBe("1.0 ft");
  expect(length(3.048, "ft")).toBe("10.0 ft");
  expect(speed(1609.344 / 3600, "mph")).toBe("1 mph");
});

test("speeds are written as a reader says them", () => {
  expect(speed(15, "m/s")).toBe("15.0 m/s");
  expect(speed(15, "km/h")).toBe("54 km/h");
  expect(speed(15, "mph")).toBe("34 mph");
});

test("nets differ by centimetres, and 2.24 m is 7.35 ft", () => {
  expect(netHeight(2.24, { length: "m", speed: "km/h" })).toBe("2.24 m");
  expect(netHeight(2.24, { length: "ft", speed: "mph" })).toBe("7.35 ft");
});

test("signs are true minus signs, and nothing is minus zero", () => {
  expect(signed(1.25)).toBe("+1.3");
  expect(signed(-0.4)).toBe(`${MINUS}0.4`);
  expect(signed(-0.04)).toBe("0.0");
  expect(plain(-2.04, 1)).toBe(`${MINUS}2.0`);
});

test("sentences of the engine follow the chosen units", () => {
  const feet = { length: "ft", speed: "mph" } as const;
  expect(inUnits("0.9 m inside and 0.5 m behind the passer in 5", feet)).toBe("3.0 ft inside and 1.6 ft behind the passer in 5");
  expect(inUnits("The pass has 6 m to go", feet)).toBe("The pass has 19.7 ft to go");
  expect(inUnits("The serve leaves the hand at 15 m/s", feet)).toBe("The serve leaves the hand at 34 mph");
  expect(inUnits("The pass has 6.3 m to go", { length: "m", speed: "m/s" })).toBe("The pass has 6.3 m to go");
  expect(inUnits("Misses 12 in 100", feet)).toBe("Misses 12 in 100");
});
