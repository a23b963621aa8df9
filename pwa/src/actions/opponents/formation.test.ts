import { expect, test } from "vitest";
import { seenUpon, type Stands } from "./formation";

const at = (position: Stands["position"], x_m: number, y_m: number, passes: boolean): Stands => ({ position, x_m, y_m, passes, number: null });
const ENTERED = [at(1, -2, 4.5, false), at(2, -3.8, 1, false), at(3, -2.9, 6.3, true), at(4, 3.8, 1, false), at(5, 2.9, 6.3, true), at(6, 0, 6.7, true)];

test("passers that were seen move, and the setter stays where she was put", () => {
  const passers = [{ position: 3, x_m: -3, y_m: 5.5 }, { position: 5, x_m: 2.9, y_m: 6.3 }] as const;
  const { players } = seenUpon(ENTERED, { passers });
  expect(players?.[0]).toEqual({ position: 1, x_m: -2, y_m: 4.5, passes: false });
  expect(players?.[2]).toEqual({ position: 3, x_m: -3, y_m: 5.5, passes: true });
  expect(players?.[5]).toMatchObject({ position: 6, passes: false }); // she was not among them
});

test("without six that were entered, or a place for each passer, it is kept as it was seen", () => {
  expect(seenUpon(undefined, { formation: "four" })).toEqual({ formation: "four" });
  expect(seenUpon(ENTERED, { formation: "four" })).toEqual({ formation: "four" });
  const nameless = { passers: [{ x_m: 0, y_m: 6 }] };
  expect(seenUpon(ENTERED, nameless)).toEqual(nameless);
});
