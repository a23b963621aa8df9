import { expect, test } from "vitest";
import { planFrame } from "./frame";
import { angleAt, edgesTouched, ellipsePlaces, pathOf, shortOf, within } from "./curves";

const at = (x_m: number, y_m: number) => ({ x_m, y_m });
const degreesBetween = (corner: { x_m: number; y_m: number }, a: { x_m: number; y_m: number }, b: { x_m: number; y_m: number }): number => {
  const [ux, uy, vx, vy] = [a.x_m - corner.x_m, a.y_m - corner.y_m, b.x_m - corner.x_m, b.y_m - corner.y_m];
  return (Math.acos((ux * vx + uy * vy) / (Math.hypot(ux, uy) * Math.hypot(vx, vy))) * 180) / Math.PI;
};

// Closed form: down a line x = 4 the way back is -y, and the way to (-1, 1) leaves it by atan(5 / (y - 1)).
test.each([[at(4, 6), 45], [at(4, 1), 90]])("the arc at %o spans the pass angle", (landing, expected) => {
  const { arc } = angleAt(landing, at(4, -9.2), at(-1, 1), 1.5, 1.5);
  const [first, last] = [arc[0], arc.at(-1)] as const;
  expect(degreesBetween(landing, first as never, last as never)).toBeCloseTo(expected, 6);
  for (const { x_m, y_m } of arc) expect(Math.hypot(x_m - landing.x_m, y_m - landing.y_m)).toBeCloseTo(1.5, 9);
});

test("the arc takes the shorter way round, also across the direction where angles jump", () => {
  const { arc } = angleAt(at(0, 0), at(-1, 0.1), at(-1, -0.1), 1, 1);
  expect(arc.every(({ x_m }) => x_m < -0.99)).toBe(true);
});

test("every place of the ellipse fulfils its equation, along the bearing", () => {
  const ellipse = { x_m: 3, y_m: 7, semi_across_m: 1.2, semi_along_m: 1.8, bearing_deg: 30, share: 0.5 };
  for (const { x_m, y_m } of ellipsePlaces(ellipse)) {
    const [dx, dy] = [x_m - 3, y_m - 7];
    const along = dx * 0.5 + dy * Math.sqrt(0.75); // sin 30°, cos 30°
    const across = dx * Math.sqrt(0.75) - dy * 0.5;
    expect((along / 1.8) ** 2 + (across / 1.2) ** 2).toBeCloseTo(1, 9);
  }
});

test("a path starts with a move and may close", () => {
  expect(pathOf(planFrame(108, 205, false), [at(0, -0.35), at(1, -0.35)], true)).toBe("M54 102.5 L64 102.5 Z");
});

test("a way stops short of its end, and a way too short does not turn round", () => {
  expect(shortOf({ x: 0, y: 0 }, { x: 10, y: 0 }, 4)).toEqual({ x: 6, y: 0 });
  expect(shortOf({ x: 0, y: 0 }, { x: 3, y: 0 }, 4)).toEqual({ x: 0, y: 0 });
});

test("a place is held inside its limits and says which it touches", () => {
  const box = { x_min_m: -2.9, x_max_m: 2.9, y_min_m: 0, y_max_m: 9 };
  const held = within(at(5, 9.4), box);
  expect(held).toEqual(at(2.9, 9));
  expect(edgesTouched(held, box)).toEqual(["right", "far"]);
  expect(edgesTouched(at(0, 4), box)).toEqual([]);
});
