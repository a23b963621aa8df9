/** Which shirt numbers were seen on a side: what can be tapped instead of typed. */
import type { MatchEvent, ReplayAnswer, Side, SideState } from "../../api/match";
import type { Row } from "../../store/log";
import { teamNamed, type Roster } from "../team/roster";

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

/** Returns who may come in: seen, or a libero, or `entered` beforehand, and not on court. */
export function bench(rows: readonly Row<MatchEvent>[], side: Side, state: SideState, entered: readonly number[] = []): number[] {
  const court = new Set(state.lineup.map(({ number }) => number));
  const all = new Set([...seenNumbers(rows, side), ...entered, ...state.liberos, ...state.lineup.flatMap(({ libero_for }) => libero_for ?? [])]);
  return [...all].filter((n) => !court.has(n)).sort((a, b) => a - b);
}

/** Returns the numbers of our team, if it was entered. */
export const numbersOf = (us: string | null, now?: Roster): readonly number[] => teamNamed(us, now)?.roster.map(({ number }) => number) ?? [];

/** Returns who may come in to serve for a server of ours, by what was entered: while a substitution is left, and nobody on court. */
export function comingIn({ state }: ReplayAnswer, server: number | null, now: Roster): readonly number[] {
  const { lineup, substitutions_left } = state.sides.us;
  if (server === null || substitutions_left === 0) return [];
  const players = teamNamed(state.teams.us, now)?.roster ?? [];
  return players.filter((one) => one.comes_in_for.includes(server) && !lineup.some(({ number }) => number === one.number)).map(({ number }) => number);
}
