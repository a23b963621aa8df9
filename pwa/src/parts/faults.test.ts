import { expect, test } from "vitest";
import { faultInWords, fieldInWords } from "./faults";

test("a fault names the field and what is expected, in plain words", () => {
  expect(faultInWords({ field: "opponent.setter_position", value: 7, expected: "a whole number from 1 to 6", rule: "schema" }))
    .toBe("For their setter’s position it needs a whole number from 1 to 6, not 7.");
  expect(faultInWords({ field: "", value: { a: 1 }, expected: "an object", rule: "schema" })).toBe("For what was sent it needs an object.");
  expect(fieldInWords("opponent.passers.1.x_m")).toBe("passer 2 of those sent");
  expect(fieldInWords("server.speeds_m_s")).toBe("server speeds m s");
});
