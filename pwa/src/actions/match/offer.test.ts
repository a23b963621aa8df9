import { expect, test } from "vitest";
import { FIRST_OFFERED, offered } from "./offer";

const many = (...names: string[]) => names.map((name) => ({ name }));
const SEVEN = many("Alder Point", "Birch Quay", "Cold Harbour", "Dun Moor", "Elm Weir", "Fen Crossing", "Harbour Street");

test("typing narrows what is offered, in any case and anywhere in the name", () => {
  expect(offered(SEVEN, " harb")).toEqual(many("Cold Harbour", "Harbour Street"));
  expect(offered(SEVEN, "nobody we know")).toEqual([]);
});

test("with nothing typed all are offered", () => expect(offered(SEVEN, "")).toEqual(SEVEN));

test("a whole name stands first among many, with the others behind it", () => {
  const shown = offered(SEVEN, "harbour street");
  expect(shown[0]).toEqual({ name: "Harbour Street" });
  expect(shown).toHaveLength(SEVEN.length);
});

test("a few keep their places when one of them is picked", () => {
  const few = SEVEN.slice(0, FIRST_OFFERED);
  expect(offered(few, "Dun Moor")).toEqual(few);
});
