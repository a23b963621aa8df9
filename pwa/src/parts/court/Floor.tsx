/** Their six positions on the floor, as we see them across the net; one of them tinted. */
import { POSITIONS, type Point, type Position } from "../../api/types";
import { corners, pathOf } from "./curves";
import type { Frame } from "./frame";

const HALF_M = 1.5;
const DEEP_M = 2.25; // two rows share the nine metres of their half
const ACROSS: Readonly<Record<Position, number>> = { 1: -3, 2: -3, 3: 0, 4: 3, 5: 3, 6: 0 };
const isFront = (position: Position): boolean => position >= 2 && position <= 4;

/** Returns the middle of a position's part of the floor. [m] */
const home = (position: Position): Point => ({ x_m: ACROSS[position], y_m: isFront(position) ? DEEP_M : 3 * DEEP_M });

/** Whether a place lies in a position's own part of the floor. */
export function isAtHome(position: Position, { x_m, y_m }: Point): boolean {
  const middle = home(position);
  return Math.abs(x_m - middle.x_m) <= HALF_M && Math.abs(y_m - middle.y_m) <= DEEP_M;
}

/** Returns where a position's number stands: in the corner of its part, off the players. [m] */
export function numberOf(position: Position): Point {
  const { x_m, y_m } = home(position);
  return { x_m: x_m - HALF_M + 0.5, y_m: y_m + DEEP_M - 0.6 };
}

export function Floor({ frame, setter }: { frame: Frame; setter: Position | null }) {
  return (
    <g class="floor" aria-hidden="true">
      {POSITIONS.map((position) => {
        const { x_m, y_m } = home(position);
        const box = { x_min_m: x_m - HALF_M, x_max_m: x_m + HALF_M, y_min_m: y_m - DEEP_M, y_max_m: y_m + DEEP_M };
        const { x, y } = frame.at(numberOf(position));
        return (
          <g key={position} class={position === setter ? "hers" : ""}>
            <path class="cell" d={pathOf(frame, corners(box), true)} />
            <text x={x} y={y} dy="0.36em" font-size={13 * frame.sign}>{position}</text>
          </g>
        );
      })}
    </g>
  );
}
