/** Serves to a chosen place; and where a ball that was aimed out of reach still lands. */
import { Refused } from "../api/problem";
import type { Call, CallRequest, Point } from "../api/types";
import { engine } from "./ask";

const HALVINGS = 4; // chosen: of the few metres that lie between the two, to a foot's length

const between = (a: Point, b: Point): Point => ({ x_m: (a.x_m + b.x_m) / 2, y_m: (a.y_m + b.y_m) / 2 });

/** Returns the last place that is reached on the straight way from one that is to one that is not. [m] */
export async function lastReached(reached: Point, beyond: Point, reaches: (place: Point) => Promise<boolean>): Promise<Point> {
  let [last, too_far] = [reached, beyond];
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = between(last, too_far);
    if (await reaches(middle)) last = middle;
    else too_far = middle;
  }
  return last;
}

/** Returns what a serve to a place is worth; null where the ball does not get there over the net. */
export async function served(request: CallRequest, target: Point): Promise<Call | null> {
  try {
    return (await engine.aimed({ ...request, target })).serve;
  } catch (problem) {
    if (problem instanceof Refused) return null;
    throw problem;
  }
}

const PARTS = [1, 0.95, 0.9, 0.8]; // chosen: of the way that the best serve flies; another line over the net may carry less far

/** Returns the place in the direction of one, as far from the server as another, or a part of that. [m] */
export function asFarAs(server: Point, towards: Point, other: Point, of = 1): Point {
  const far = (place: Point): number => Math.hypot(place.x_m - server.x_m, place.y_m - server.y_m);
  const part = (of * far(other)) / far(towards);
  return { x_m: server.x_m + part * (towards.x_m - server.x_m), y_m: server.y_m + part * (towards.y_m - server.y_m) };
}

/**
 * Returns the last place that is reached on the way to one that is not: along the server's own line where she gets about as far as the
 * best serve does, else from the best target of this spot; null: none is reached.
 */
export async function putBack(request: CallRequest, server: Point, target: Point, best: Point): Promise<Point | null> {
  const reaches = async (place: Point): Promise<boolean> => (await served(request, place)) !== null;
  try {
    for (const part of PARTS) {
      const start = asFarAs(server, target, best, part);
      if (await reaches(start)) return await lastReached(start, target, reaches);
    }
    const { x_m, y_m } = (await engine.call(request)).best.target;
    return await lastReached({ x_m, y_m }, target, reaches);
  } catch (problem) {
    if (problem instanceof Refused) return null;
    throw problem;
  }
}
