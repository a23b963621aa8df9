import { expect, test } from "vitest";
import { correction, draftNow, draftOf, EMPTY, inOneLine, sheetOf, twice, typed, withNumber, withSetter } from "./sheet";

const FULL = { ...EMPTY, numbers: [4, 11, 7, 2, 15, 9] };

test("digits are typed one after the other, up to 99, then anew", () => {
  expect(typed(null, 7)).toBe(7);
  expect(typed(1, 2)).toBe(12);
  expect(typed(12, 5)).toBe(5);
  expect(typed(0, 5)).toBe(5);
});

test("nothing but the setter's place is a sheet", () => {
  expect(sheetOf({ ...EMPTY, setters: [4] })).toEqual({ setter_position: 4 });
  expect(sheetOf(EMPTY)).toEqual({});
});

test("a setter with a number is given by her number, one without by her place", () => {
  expect(sheetOf({ ...FULL, setters: [1] })).toEqual({ lineup: FULL.numbers, setters: [4] });
  expect(sheetOf({ ...FULL, numbers: [null, 11, 7, 2, 15, 9], setters: [1] })).toEqual({ lineup: [null, 11, 7, 2, 15, 9], setter_position: 1 });
});

test("a sheet becomes a draft and the same sheet again", () => {
  const sheet = { lineup: FULL.numbers, liberos: [13], setters: [4], setter_position: null, system: "one_setter" } as const;
  expect(sheetOf(draftOf(sheet))).toEqual({ lineup: FULL.numbers, liberos: [13], setters: [4] });
});

test("one setter or two, by the system; a second tap takes the mark away", () => {
  expect(withSetter(withSetter(EMPTY, 1), 4).setters).toEqual([4]);
  expect(withSetter(withSetter({ ...EMPTY, system: "two_setters_back_sets" }, 1), 4).setters).toEqual([1, 4]);
  expect(withSetter(withSetter(EMPTY, 1), 1).setters).toEqual([]);
});

test("a number that stands twice is named, also as a libero", () => {
  expect(twice(withNumber(FULL, 6, 11))).toEqual([11]);
  expect(twice(FULL)).toEqual([]);
});

test("a line-up reads in one line", () => {
  expect(inOneLine({ ...FULL, setters: [1], liberos: [13, null] })).toBe("4 11 7 2 15 9, setter 4, libero 13");
  expect(inOneLine({ ...EMPTY, setters: [6] })).toBe("setter in 6");
});

test("a correction by hand says only what changed, so that a libero on court stays", () => {
  const lineup = [4, 11, 7, 2, 15, 13].map((number) => ({ number, libero: number === 13, libero_for: number === 13 ? 9 : null }));
  const before = draftNow({ lineup, liberos: [13], setter_positions: [1], system: "one_setter" });
  expect(before.numbers).toEqual([4, 11, 7, 2, 15, 9]);
  expect(correction(before, before)).toBeNull();
  expect(correction(before, withNumber(before, 1, 12))).toEqual({ lineup: [null, 12, null, null, null, null] });
  expect(correction(before, withSetter(before, 4))).toEqual({ setters: [2] });
});
