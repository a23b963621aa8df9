import { expect, test } from "vitest";
import { refusedFrom, waitFrom } from "./problem";

test("a problem document keeps its title and its faults", () => {
  const fault = { field: "opponent.setter_position", value: 7, expected: "1 to 6", rule: "schema" };
  const refused = refusedFrom(422, { type: "/problems/schema", title: "Validation failed", status: 422, errors: [fault] });
  expect(refused.message).toBe("Validation failed");
  expect(refused.faults).toEqual([fault]);
});

test.each([undefined, "<html>", null, { errors: "none" }, { errors: [3] }])("anything else, %o, still says that it was refused", (body) => {
  const refused = refusedFrom(413, body);
  expect(refused.message).toContain("413");
  expect(refused.faults).toEqual([]);
});

test("how long to wait is read from seconds or from a date", () => {
  const now = Date.parse("2026-03-01T10:00:00Z");
  expect(["7", " 120 ", "Sun, 01 Mar 2026 10:00:30 GMT", "Sun, 01 Mar 2026 09:00:00 GMT", "soon", null].map((header) => waitFrom(header, now))).toEqual([7, 120, 30, 0, 0, 0]);
});
