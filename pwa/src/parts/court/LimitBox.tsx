import type { Limits, Point } from "../../api/types";
import type { Plan } from "./frame";
import { corners, edgePlaces, edgesTouched, pathOf, type Edge } from "./curves";

const INSET_PX = 5; // chosen: a limit at the sideline stays visible beside it

/** The room in which the held player may stand; the edges she has reached are drawn solid. */
export function LimitBox({ frame, limits, place }: { frame: Plan; limits: Limits; place: Point }) {
  const inset_m = Math.min(INSET_PX / frame.scale, (limits.x_max_m - limits.x_min_m) / 4, (limits.y_max_m - limits.y_min_m) / 4);
  const box: Limits = {
    x_min_m: limits.x_min_m + inset_m, x_max_m: limits.x_max_m - inset_m, y_min_m: limits.y_min_m + inset_m, y_max_m: limits.y_max_m - inset_m,
  };
  return (
    <g class="limits" aria-hidden="true">
      <path d={pathOf(frame, corners(box), true)} />
      {edgesTouched(place, limits).map((edge: Edge) => <path key={edge} class="reached" d={pathOf(frame, edgePlaces(box, edge))} />)}
    </g>
  );
}
