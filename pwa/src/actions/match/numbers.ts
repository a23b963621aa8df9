/** Which shirt numbers were seen on a side: what can be tapped instead of typed. */
import type { MatchEvent, Side, SideState } from "../../api/match";
import type { Row } from "../../store/log";

/** Returns the numbers of a side that the log names. */
export function seenNumbers(rows: readonly Row<MatchEvent>[], side: Side): number[] {
  const seen = new Set<number>();
  const add = (...numbers: (number | null | undefined)[]): void => numbers.forEach((n) => typeof n === "number" && seen.add(n));
  for (const { event } of rows) {
    if (event.type === "set_started") add(...(event[side]?.lineup ?? []), ...(event[side]?.liberos ?? []), ...(event[side]?.setters ?? []));
    if (!("side" in event) || event.side !== side) continue;
    if ("enters" in event) add(event.enters, event.leaves);
    if (event.type === "server_seen" || event.type === "server_corrected") add(event.number);
    if (event.type === "lineup_corrected") add(...(event.lineup ?? []), ...(event.liberos ?? []));
  }
  return [...seen].sort((a, b) => a - b);
}

/** Returns who may come in: seen, or a libero, and not on court. */
export function bench(rows: readonly Row<MatchEvent>[], side: Side, state: SideState): number[] {
  const court = new Set(state.lineup.map(({ number }) => number));
  const all = new Set([...seenNumbers(rows, side), ...state.liberos, ...state.lineup.flatMap(({ libero_for }) => libero_for ?? [])]);
  return [...all].filter((n) => !court.has(n)).sort((a, b) => a - b);
}
