/** Lines and curves of the picture, as places in metres or as SVG paths. */
import type { Ellipse, Limits, Point } from "../../api/types";
import type { Frame, Px } from "./frame";

const round = (value: number): number => Math.round(value * 10) / 10;

/** Returns an SVG path through the places; `closed` joins its ends. */
export function pathOf(frame: Frame, places: readonly Point[], closed = false): string {
  const steps = places.map((place, i) => {
    const { x, y } = frame.at(place);
    return `${i === 0 ? "M" : "L"}${round(x)} ${round(y)}`;
  });
  return steps.join(" ") + (closed ? " Z" : "");
}

/** Returns places around an ellipse; its long way lies along the bearing (0 = straight ahead, positive to the right). */
export function ellipsePlaces(ellipse: Ellipse, steps = 48): Point[] {
  const bearing = (ellipse.bearing_deg * Math.PI) / 180;
  const [sin, cos] = [Math.sin(bearing), Math.cos(bearing)];
  return Array.from({ length: steps }, (_, i) => {
    const turn = (2 * Math.PI * i) / steps;
    const along = ellipse.semi_along_m * Math.cos(turn);
    const across = ellipse.semi_across_m * Math.sin(turn);
    return { x_m: ellipse.x_m + along * sin + across * cos, y_m: ellipse.y_m + along * cos - across * sin };
  });
}

/** Returns the direction from one place to another. [rad], 0 along +x, counter-clockwise. */
const direction = (from: Point, to: Point): number => Math.atan2(to.y_m - from.y_m, to.x_m - from.x_m);

/** Returns the turn from one direction to another by the shorter way. [rad], -pi to pi */
export function shorterTurn(from_rad: number, to_rad: number): number {
  const turn = to_rad - from_rad;
  return Math.atan2(Math.sin(turn), Math.cos(turn));
}

export interface Angle { readonly arc: readonly Point[]; readonly middle: Point }

/** Returns the arc at a place between the ways to two others, and a place on its bisector at `label_m`. */
export function angleAt(corner: Point, one: Point, other: Point, radius_m: number, label_m: number): Angle {
  const start = direction(corner, one);
  const turn = shorterTurn(start, direction(corner, other));
  const steps = Math.max(2, Math.ceil(Math.abs(turn) / 0.08));
  const at = (r: number, a: number): Point => ({ x_m: corner.x_m + r * Math.cos(a), y_m: corner.y_m + r * Math.sin(a) });
  return {
    arc: Array.from({ length: steps + 1 }, (_, i) => at(radius_m, start + (turn * i) / steps)),
    middle: at(label_m, start + turn / 2),
  };
}

/** Returns the place on the way from one to another, `short` px before the end. */
export function shortOf(from: Px, to: Px, short: number): Px {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (length <= short) return from;
  const part = (length - short) / length;
  return { x: from.x + (to.x - from.x) * part, y: from.y + (to.y - from.y) * part };
}

/** Returns an arrow head of the given size whose tip is `to`. */
export function arrowHead(from: Px, to: Px, size: number): string {
  const a = Math.atan2(to.y - from.y, to.x - from.x);
  const wing = (turn: number): string => `${round(to.x - size * Math.cos(a + turn))} ${round(to.y - size * Math.sin(a + turn))}`;
  return `M${wing(0.45)} L${round(to.x)} ${round(to.y)} L${wing(-0.45)}`;
}

export const corners = (box: Limits): Point[] => [
  { x_m: box.x_min_m, y_m: box.y_min_m }, { x_m: box.x_max_m, y_m: box.y_min_m },
  { x_m: box.x_max_m, y_m: box.y_max_m }, { x_m: box.x_min_m, y_m: box.y_max_m },
];

export const within = (place: Point, box: Limits): Point => ({
  x_m: Math.min(Math.max(place.x_m, box.x_min_m), box.x_max_m),
  y_m: Math.min(Math.max(place.y_m, box.y_min_m), box.y_max_m),
});

export type Edge = "left" | "right" | "near" | "far";

/** Returns which edges of the box a place touches, as the server sees them. */
export function edgesTouched(place: Point, box: Limits, slack_m = 0.01): Edge[] {
  const touched: Edge[] = [];
  if (place.x_m <= box.x_min_m + slack_m) touched.push("left");
  if (place.x_m >= box.x_max_m - slack_m) touched.push("right");
  if (place.y_m <= box.y_min_m + slack_m) touched.push("near");
  if (place.y_m >= box.y_max_m - slack_m) touched.push("far");
  return touched;
}

export function edgePlaces(box: Limits, edge: Edge): [Point, Point] {
  const [nearLeft, nearRight, farRight, farLeft] = corners(box) as [Point, Point, Point, Point];
  switch (edge) {
    case "left": return [nearLeft, farLeft];
    case "right": return [nearRight, farRight];
    case "near": return [nearLeft, nearRight];
    case "far": return [farLeft, farRight];
  }
}
