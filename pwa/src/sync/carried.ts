/** What one phone hands to another without any network: a match, or the end of one. */
import type { MatchEvent } from "../api/match";
import { carry } from "../store/carry";
import { readLog, type Db, type Row } from "../store/log";

export interface CarriedRow { readonly position: number; readonly event: MatchEvent }

export interface Carried {
  readonly match: string;
  readonly name: string | null;
  /** Where the phone that hands over keeps its matches: positions are good for readers with the same service only. */
  readonly origin: string;
  /** How it stands there, in words: "set 2, 13–9". */
  readonly said: string;
  /** How many events of the match each device has logged, as far as the phone that hands over knows. */
  readonly held: Readonly<Record<string, number>>;
  readonly rows: readonly CarriedRow[];
}

/** Returns how many events of each device are in a log. */
export function heldBy(events: readonly MatchEvent[]): Readonly<Record<string, number>> {
  const held: Record<string, number> = {};
  for (const { device } of events) held[device] = (held[device] ?? 0) + 1;
  return held;
}

/** Returns what is handed over of a log: all of it, or what follows its first `skip` events. */
export const carried = (about: Pick<Carried, "match" | "name" | "origin" | "said">, rows: readonly Row<MatchEvent>[], skip = 0): Carried => ({
  ...about, held: heldBy(rows.map(({ event }) => event)), rows: rows.slice(skip).map(({ position, event }) => ({ position, event })),
});

export interface Taken {
  /** How many events were not here before. */
  readonly fresh: number;
  readonly known: number;
  /** How many earlier events the other phone has and this one still has not. */
  readonly missing: number;
}

/** Returns what taking a match over would bring, without doing it. */
export async function preview(db: Db, { match, rows, held }: Carried): Promise<Taken> {
  const here = (await readLog<MatchEvent>(db, match)).map(({ event }) => event);
  const ids = new Set(here.map(({ id }) => id));
  const fresh = rows.filter(({ event }) => !ids.has(event.id)).map(({ event }) => event);
  const after = heldBy([...here, ...fresh]);
  const missing = Object.entries(held).reduce((sum, [device, count]) => sum + Math.max(0, count - (after[device] ?? 0)), 0);
  return { fresh: fresh.length, known: rows.length - fresh.length, missing };
}

/** Takes a match over: its events land in the log here and go to the service like our own, whoever reaches it first. Twice is as good as once. */
export async function takeOver(db: Db, given: Carried, origin: string): Promise<Taken> {
  const { match, name, rows } = given;
  const brings = await preview(db, given);
  const placed = origin === given.origin ? rows : rows.map(({ event }) => ({ position: 0, event }));
  await carry(db, match, placed, { id: match, name, begun: false });
  return brings;
}
