import { expect, test } from "vitest";
import { planFrame, SHOWN, viewFrame } from "./frame";

const at = (x_m: number, y_m: number) => ({ x_m, y_m });
const FOUR_CORNERS = [at(SHOWN.x_min_m, SHOWN.y_min_m), at(SHOWN.x_max_m, SHOWN.y_min_m), at(SHOWN.x_max_m, SHOWN.y_max_m), at(SHOWN.x_min_m, SHOWN.y_max_m)];

test("a plan is to scale: 9 m across and 9 m along are equally many pixels", () => {
  const frame = planFrame(216, 410, false);
  const across = frame.at(at(4.5, 0)).x - frame.at(at(-4.5, 0)).x;
  const along = frame.at(at(0, 0)).y - frame.at(at(0, 9)).y;
  expect(across).toBeCloseTo(along, 9);
  expect(across).toBeCloseTo(9 * frame.scale, 9);
});

test.each([false, true])("pixels of a plan lead back to the same metres, turned: %s", (turned) => {
  const frame = planFrame(231, 440, turned);
  for (const place of [at(-2.9, 6.3), at(4.4, -9.2), at(0, 0)]) {
    const { x_m, y_m } = frame.back(frame.at(place));
    expect(x_m).toBeCloseTo(place.x_m, 9);
    expect(y_m).toBeCloseTo(place.y_m, 9);
  }
});

test("turning the picture round is half a turn about its middle", () => {
  const [usual, turned] = [planFrame(216, 410, false), planFrame(216, 410, true)];
  const [a, b] = [usual.at(at(3, 1)), turned.at(at(3, 1))];
  expect(a.x + b.x).toBeCloseTo(216, 9);
  expect(a.y + b.y).toBeCloseTo(410, 9);
});

test.each([[328, 200], [328, 420], [700, 640], [320, 96]])("the server's view stays inside a box of %i by %i", (width, height) => {
  const frame = viewFrame(width, height);
  for (const { x, y } of FOUR_CORNERS.map(frame.at)) {
    expect(x).toBeGreaterThanOrEqual(-0.01);
    expect(x).toBeLessThanOrEqual(width + 0.01);
    expect(y).toBeGreaterThanOrEqual(-0.01);
    expect(y).toBeLessThanOrEqual(height + 0.01);
  }
});

test("in the server's view her right is right, and what is further away is higher up and narrower", () => {
  const frame = viewFrame(328, 200);
  expect(frame.at(at(4.4, -9.2)).x).toBeGreaterThan(164);
  expect(frame.at(at(0, 9)).y).toBeLessThan(frame.at(at(0, -9)).y);
  const width = (y_m: number): number => frame.at(at(4.5, y_m)).x - frame.at(at(-4.5, y_m)).x;
  expect(width(9)).toBeLessThan(width(0));
  expect(width(0)).toBeLessThan(width(-9));
});

test("straight lines stay straight in the server's view", () => {
  const frame = viewFrame(328, 200);
  const [a, b, c] = [frame.at(at(4.4, -9)), frame.at(at(3.4, -1)), frame.at(at(2.4, 7))];
  expect((b.x - a.x) * (c.y - a.y)).toBeCloseTo((c.x - a.x) * (b.y - a.y), 6);
});
