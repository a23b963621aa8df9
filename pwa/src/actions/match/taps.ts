/** What each tap writes: events in the log's own terms. No rule of the game is here; the engine draws the conclusions. */
import { v7 } from "uuid";
import type { Call } from "../../api/types";
import type { NewRow } from "../../store/log";
import type { Ending, EventBody, Grade, MatchEvent, MatchState, Parts, RallyRecord, Side } from "../../api/match";

export interface Place { readonly set_number: number; readonly rally_number: number }

export type Placed = EventBody & { readonly at?: Place };

/** Returns a maker of the rows of one tap. Ids are in the order of the device's taps, whatever its clock does. */
export function rowsOf(bodies: readonly Placed[], { device, seen, place, said, undo }: { device: string; seen: number; place: Place; said: string; undo: boolean }) {
  const tap = v7();
  return (counter: number, msecs: number): NewRow<MatchEvent>[] =>
    bodies.map(({ at = place, ...body }, i) => ({
      event: { id: v7({ msecs, seq: counter + i }), device, counter: counter + i, ...at, seen, ...body } as MatchEvent, tap, undo, said,
    }));
}

export const won = (winner: Side, ending?: Ending): EventBody => ({ type: "rally_won", winner, ...(ending && { ending }) });

/** The serving side's miss: the point goes to the other one. */
export const missed = (serving: Side): EventBody => won(serving === "us" ? "them" : "us", "service_error");
export const ace = (serving: Side): EventBody => won(serving, "ace");

export const graded = (grade: Grade): EventBody => ({ type: "pass_graded", grade });

/** What was called, kept beside what was served. */
export const shown = (call: Call): EventBody => ({
  type: "call_shown",
  spot: { x_m: call.spot.x_m, y_m: call.spot.y_m },
  target: { x_m: call.target.x_m, y_m: call.target.y_m },
  kind: call.kind, speed_m_s: call.speed_m_s, keep: call.keep, p_error: call.p_error, p_ace: call.p_ace,
});

const retract = (event_id: string): EventBody => ({ type: "retracted", event_id });

const partsOf = (record: RallyRecord): Parts => ({
  ...(record.grade !== null && { grade: record.grade }),
  ...(record.error !== null && { error: record.error }),
  ...(record.first_ball !== null && { first_ball: record.first_ball }),
  ...(record.passer !== null && { passer: record.passer }),
  ...(record.landing !== null && { landing: record.landing }),
  ...(record.spot !== null && { spot: record.spot }),
  ...(record.kind !== null && { kind: record.kind }),
  ...(record.speed_m_s !== null && { speed_m_s: record.speed_m_s }),
});

/** What a rally is to be instead; a part given as null is taken out. */
export interface Change {
  readonly winner?: Side;
  readonly ending?: Ending | null;
  readonly parts?: { readonly [part in keyof Parts]?: Parts[part] | null };
}

const present = <T extends object>(values: T): Partial<T> => Object.fromEntries(Object.entries(values).filter(([, value]) => value !== null)) as Partial<T>;

/**
 * Returns the events that restate a rally: what was logged of it is taken back, and said anew in one event.
 * `keep`: ids that stay as they are (the call that was shown).
 */
export function restated(record: RallyRecord, keep: ReadonlySet<string>, change: Change): EventBody[] {
  const before = record.ending === "ace" || record.ending === "service_error" ? record.ending : null;
  const ending = change.ending === undefined ? before : change.ending;
  const parts = present({ ...partsOf(record), ...change.parts }) as Parts;
  const winner = change.winner ?? record.winner;
  const anew: EventBody[] =
    winner !== null ? [{ type: "rally_won", winner, ...(ending && { ending }), ...parts }]
    : Object.keys(parts).length > 0 ? [{ type: "serve_noted", ...parts }] : [];
  return [...record.events.filter((id) => !keep.has(id)).reverse().map(retract), ...anew];
}

export const placeOf = ({ set_number, rally_number }: MatchState): Place => ({ set_number, rally_number });
