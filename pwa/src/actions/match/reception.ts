/** Their reception as it is seen, with their setter where she is now: how many pass, and from where. */
import type { EventBody } from "../../api/match";
import { FORMATIONS, type Formation, type Player, type Point } from "../../api/types";

/** Places that were changed by hand and are not logged yet, by the passer's label. */
export type Moved = Readonly<Record<string, Point>>;

/** Returns the passers of a formation, where they were moved to. */
export const passersAt = (players: readonly Player[], moved: Moved): Player[] =>
  players.filter(({ role }) => role === "passer").map((player) => ({ ...player, ...moved[player.label] }));

const tenth = (value: number): number => Math.round(value * 10) / 10;

/** Returns what was seen, as the log takes it: the number of passers, and their places if any of them was moved. */
export function receptionSeen(passers: readonly Player[]): EventBody | null {
  const formation: Formation | undefined = FORMATIONS[passers.length - 2];
  if (!formation) return null;
  const places = passers.map(({ x_m, y_m, position, number }) => ({
    x_m: tenth(x_m), y_m: tenth(y_m), ...(position !== null && { position }), ...(number !== null && { number }),
  }));
  return { type: "reception_formation_seen", side: "them", formation, passers: places };
}
