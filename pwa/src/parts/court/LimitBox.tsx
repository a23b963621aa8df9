import type { Limits, Point } from "../../api/types";
import type { Plan } from "./frame";
import { corners, edgePlaces, edgesTouched, pathOf } from "./marks";

/** The room in which the held player may stand; the edges she has reached are drawn solid. */
export function LimitBox({ frame, limits, place }: { frame: Plan; limits: Limits; place: Point }) {
  return (
    <g class="limits" aria-hidden="true">
      <path d={pathOf(frame, corners(limits), true)} />
      {edgesTouched(place, limits).map((edge) => <path key={edge} class="reached" d={pathOf(frame, edgePlaces(limits, edge))} />)}
    </g>
  );
}
