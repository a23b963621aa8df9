/** A server that was restored from an older backup has less than this device: noticed wherever it says what it has. */
import type { MatchItem } from "../../api/match";
import { showMatch } from "../../api/matches";
import { Refused } from "../../api/problem";
import { begunMatches, losePlaces, matchesWaiting, noteMatch, placedCount, type Db } from "../../store/log";
import { pull } from "../../sync/push";
import { session } from "../session";
import { forgetDeleted } from "./deleted";
import { disk } from "./disk";
import { exchangeNow } from "./exchange";
import { live } from "./live";

/** Sends again what the server's list shows to be lost; notes the matches that it has no more. `all`: the list is whole. Returns whether anything changed. */
export async function lookForLost(items: readonly MatchItem[], all: boolean): Promise<boolean> {
  const db = await disk;
  const there = new Map(items.map(({ id, position }) => [id, position]));
  const waiting = new Set(await matchesWaiting(db));
  let changed = false;
  for (const { id, begun, missing } of await begunMatches(db)) {
    const position = there.get(id);
    if (position !== undefined && (await placedCount(db, id)) > position) changed = (await pull(db, id)) || changed;
    if (position === undefined && all && begun && !missing && !waiting.has(id) && !session.get().who?.match_id) changed = (await lookFor(db, id)) || changed;
  }
  return changed;
}

const [NOT_FOUND, GONE] = [404, 410];

/** Asks for a match that is not in the list. One that was deleted goes from here too, unless it is on the screen. */
async function lookFor(db: Db, id: string): Promise<boolean> {
  const status = await showMatch(id).then(() => 0, (problem: unknown) => (problem instanceof Refused ? problem.status : 0));
  if (status === NOT_FOUND) await noteMatch(db, id, { missing: true });
  if (status === GONE && live.get().id !== id) await forgetDeleted(db, id);
  return status === NOT_FOUND || status === GONE;
}

/** Begins the match on the screen again on a server that has it no more, and sends all of it. */
export async function sendWhole(): Promise<void> {
  const { id } = live.get();
  if (!id) return;
  const db = await disk;
  await losePlaces(db, id);
  await noteMatch(db, id, { begun: false, missing: false });
  exchangeNow();
}
