/** How old what is shown is, and whether the score must have moved on. Survives a clock that jumps. */
import type { MatchEvent } from "../../api/match";
import type { Row } from "../../store/log";
import type { Live } from "./live";
import { dropped } from "./standing";

/** A moment by the device's clock, and by a count that never jumps but stops with the page (null from an earlier page). */
export interface Moment { readonly wall_ms: number; readonly steady_ms: number | null }

/**
 * From when on a score that is only read must have moved on. [ms] A rally and what is between two takes some 20 to 30 s (common
 * practice, no source); after two of them without a word it is more likely than not that a point was played. Chosen.
 */
export const OUTDATED_MS = 60_000;

export const momentNow = (): Moment => ({ wall_ms: Date.now(), steady_ms: performance.now() });

/** Returns how long ago a moment was, [ms]; null when the clock was put back since. The clock may jump, the count may have slept: the longer of both. */
export function ageOf({ wall_ms, steady_ms }: Moment, now: Moment = momentNow()): number | null {
  const wall = now.wall_ms - wall_ms;
  const steady = steady_ms === null || now.steady_ms === null ? -1 : now.steady_ms - steady_ms;
  const age = Math.max(wall, steady);
  return age < 0 ? null : age;
}

/** Returns an age in words: "just now", "2 min ago". */
export function inAges(age_ms: number | null): string {
  if (age_ms === null) return "some time ago";
  if (age_ms < 15_000) return "just now";
  if (age_ms < 60_000) return `${Math.floor(age_ms / 1000)} s ago`;
  const minutes = Math.floor(age_ms / 60_000);
  if (minutes < 60) return `${minutes} min ago`;
  const hours = Math.floor(minutes / 60);
  return hours < 48 ? `${hours} h ago` : `${Math.floor(hours / 24)} days ago`;
}

export const clockOf = (wall_ms: number): string => new Date(wall_ms).toLocaleTimeString(undefined, { hour: "2-digit", minute: "2-digit" });

/** Whether somebody else keeps the score: the last result, or the start of the set, was logged on another device. */
export function onlyReads(rows: readonly Row<MatchEvent>[], device: string): boolean {
  const gone = dropped(rows.map(({ event }) => event));
  const last = rows.findLast(({ id, event }) => (event.type === "rally_won" || event.type === "rally_replayed" || event.type === "set_started") && !gone.has(id));
  return last !== undefined && last.event.device !== device;
}

/** Returns how old the state on the screen is, where somebody else keeps the score of a match in play; else null. [ms] */
export function staleness({ rows, device, answer, contact }: Live, now: Moment = momentNow()): number | null {
  if (answer?.state.status !== "in_play" || !onlyReads(rows, device)) return null;
  return contact.heard ? (ageOf(contact.heard, now) ?? Infinity) : Infinity;
}
