import { expect, test } from "vitest";
import { crossOn, distanceTo } from "./lane";
import { crossing, placeLabels, shared, type Wanted } from "./labels";

const BOX = { x: 10, y: 10, width: 20, height: 10 };
const BOUNDS = { x: 0, y: 0, width: 200, height: 200 };
const wanted = (part: Partial<Wanted>): Wanted => ({ key: "angle", text: "36°", size: 20, anchor: { x: 100, y: 100 }, clear: 4, toward: 0, ...part });

test("a line crosses a box over the length that lies inside", () => {
  expect(crossing({ from: { x: 0, y: 15 }, to: { x: 100, y: 15 } }, BOX)).toBeCloseTo(20, 9);
  expect(crossing({ from: { x: 10, y: 10 }, to: { x: 20, y: 20 } }, BOX)).toBeCloseTo(Math.SQRT2 * 10, 9);
  expect(crossing({ from: { x: 0, y: 5 }, to: { x: 100, y: 5 } }, BOX)).toBe(0);
  expect(crossing({ from: { x: 20, y: 12 }, to: { x: 20, y: 14 } }, BOX)).toBeCloseTo(2, 9);
});

test("with nothing in the way a label goes where it was wished", () => {
  const [label] = placeLabels([wanted({})], [], [], BOUNDS);
  expect(label?.middle.y).toBeCloseTo(100, 9);
  expect(label?.box.x).toBeCloseTo(104, 9);
});

test("a label keeps off what is taken, off lines, and off the labels before it", () => {
  const ring = { x: 100, y: 88, width: 60, height: 24 };
  const line = { from: { x: 100, y: 0 }, to: { x: 100, y: 200 } };
  const placed = placeLabels([wanted({}), wanted({ key: "setter", text: "setter", size: 13 })], [ring], [line], BOUNDS);
  const [one, two] = placed as [(typeof placed)[0], (typeof placed)[0]];
  expect(shared(one.box, ring) + shared(two.box, ring) + shared(one.box, two.box)).toBe(0);
  expect(crossing(line, one.box) + crossing(line, two.box)).toBe(0);
});

test("a label never leaves the picture while there is room in it", () => {
  for (const anchor of [{ x: 0, y: 0 }, { x: 200, y: 100 }, { x: 100, y: 200 }]) {
    const [label] = placeLabels([wanted({ anchor, toward: Math.PI })], [], [], BOUNDS);
    expect(shared(label!.box, BOUNDS)).toBeCloseTo(label!.box.width * label!.box.height, 6);
  }
});

test("the cross on the lane stands clear of the serve", () => {
  const serve = { from: { x: 0, y: 200 }, to: { x: 0, y: 0 } };
  const lane = { from: { x: 0, y: 200 }, to: { x: 100, y: 0 } };
  expect(distanceTo(crossOn(lane, [serve]), serve)).toBeGreaterThanOrEqual(26);
  expect(distanceTo({ x: 30, y: 40 }, { from: { x: 0, y: 0 }, to: { x: 0, y: 0 } })).toBe(50);
});
