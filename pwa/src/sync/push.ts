/** Brings a match's log to the service and back. Sending twice is as good as once. */
import { beginMatch, changeMatch, eventsAfter, postEvents, type Place } from "../api/matches";
import type { MatchEvent, Posted } from "../api/match";
import { isAnotherLog, isRevoked, Refused } from "../api/problem";
import { completeTo, idAt, losePlaces, mark, matchKnown, noteMatch, placedCount, take, unsent, type Db, type Row } from "../store/log";

export const BATCH = 100; // chosen: some 40 kB, far below the 500 events and 1 MB that the service takes at once
export const BATCH_BYTES = 256 * 1024; // chosen: some seconds on a weak connection

export interface Service {
  begin(id: string, name: string | null): Promise<unknown>;
  rename(id: string, name: string | null): Promise<unknown>;
  post: typeof postEvents;
  after: typeof eventsAfter;
}
export const SERVICE: Service = { begin: beginMatch, rename: (id, name) => changeMatch(id, { name }), post: postEvents, after: eventsAfter };

/** Of a whole batch, never of its place in time: too much at once, or not readable. Everything else is kept and sent later. */
const UNREADABLE: readonly number[] = [400, 413, 422];

/**
 * Sends what is unsent, oldest first, batch after batch; stops at the first failure by throwing it. Returns how many events were
 * settled: taken, known or refused. A service that was restored from an older backup gets everything again, in its old order.
 */
export async function push(db: Db, match: string, service: Service = SERVICE): Promise<number> {
  let settled = 0;
  try {
    await tell(db, match, service);
  } catch (problem) {
    if (isRevoked(problem)) await handIn(db, match, service);
    throw problem;
  }
  for (;;) {
    const waiting = bounded(await unsent<MatchEvent>(db, match, BATCH));
    if (waiting.length === 0) return settled;
    const posted = await post(db, match, waiting, service).catch(async (problem: unknown) => {
      if (isRevoked(problem)) await handIn(db, match, service);
      if (!isAnotherLog(problem)) throw problem;
      return lose(db, match);
    });
    if (!posted) continue;
    const now = posted.accepted.length + posted.known.length + posted.refused.length;
    settled += now;
    if (now === 0) return settled; // do not ask for ever
  }
}

/** Returns the last event up to which this device has everything; null without any. */
async function lastKnown(db: Db, match: string): Promise<Place | null> {
  const position = await completeTo(db, match);
  const id = position > 0 ? await idAt(db, match, position) : null;
  return id === null ? null : { position, id };
}

/** The service has another log than this device knows: from now on all of it is unsent. */
async function lose(db: Db, match: string): Promise<null> {
  await losePlaces(db, match);
  await noteMatch(db, match, { lost_ms: Date.now() });
  return null;
}

const EVERYTHING = 100_000; // more than a match ever has

/**
 * Sends what is unsent of a match from a device that was revoked: the service holds it for the coach, and answers that it was refused.
 * It stays unsent here. Throws the last answer.
 */
async function handIn(db: Db, match: string, service: Service): Promise<void> {
  let rows = await unsent<MatchEvent>(db, match, EVERYTHING);
  while (rows.length > 0) {
    const batch = bounded(rows.slice(0, BATCH));
    await service.post(match, batch.map(({ event }) => event), null).catch((problem: unknown) => {
      if (!isRevoked(problem)) throw problem;
    });
    rows = rows.slice(batch.length);
  }
}

/** Returns the first of some rows, as many as fit into a batch; at least one. */
export function bounded(rows: readonly Row<MatchEvent>[], most: number = BATCH_BYTES): readonly Row<MatchEvent>[] {
  let bytes = 0;
  const end = rows.findIndex(({ event }, i) => (bytes += new TextEncoder().encode(JSON.stringify(event)).length) > most && i > 0);
  return end === -1 ? rows : rows.slice(0, end);
}

/** Sends rows and marks what became of each. A batch that is refused as a whole is halved, until the one event is found that cannot be read. */
async function post(db: Db, match: string, rows: readonly Row<MatchEvent>[], service: Service): Promise<Posted> {
  try {
    const posted = await service.post(match, rows.map(({ event }) => event), await lastKnown(db, match));
    const refused = posted.refused.map(({ index, error }) => ({ id: rows[index]?.id ?? "", refused: `${error.field.replace(/^events\.\d+\.?/, "") || "event"}: ${error.expected}` }));
    await mark(db, match, [...posted.accepted, ...posted.known, ...refused]);
    return posted;
  } catch (problem) {
    if (!(problem instanceof Refused) || !UNREADABLE.includes(problem.status)) throw problem;
    return halved(db, match, rows, service, problem);
  }
}

async function halved(db: Db, match: string, rows: readonly Row<MatchEvent>[], service: Service, problem: Refused): Promise<Posted> {
  const [only] = rows;
  if (only && rows.length === 1) {
    const fault = problem.faults[0];
    await mark(db, match, [{ id: only.id, refused: fault ? `${fault.field}: ${fault.expected}` : problem.message }]);
    return { accepted: [], known: [], refused: [{ index: 0, id: only.id, error: { field: "", expected: "" } }], position: 0 };
  }
  const middle = Math.ceil(rows.length / 2);
  const first = await post(db, match, rows.slice(0, middle), service);
  const second = await post(db, match, rows.slice(middle), service);
  return {
    accepted: [...first.accepted, ...second.accepted], known: [...first.known, ...second.known],
    refused: [...first.refused, ...second.refused], position: Math.max(first.position, second.position),
  };
}

/**
 * Fetches what others have logged since the position up to which this device has everything. Returns whether anything came.
 *
 * A service that was restored from an older backup has another log than this device knows: another event where this device goes on
 * reading, or fewer events than have a place here. Then everything is sent again, in its old order, and read anew.
 */
export async function pull(db: Db, match: string, service: Service = SERVICE): Promise<boolean> {
  const came = await read(db, match, service);
  if (came !== "lost") return came;
  await lose(db, match);
  await push(db, match, service);
  await read(db, match, service);
  return true;
}

async function read(db: Db, match: string, service: Service): Promise<boolean | "lost"> {
  const start = await completeTo(db, match);
  let at = start;
  for (;;) {
    const here = await placedCount(db, match); // before asking: what another tab sends meanwhile is not lost
    const page = await service.after(match, at);
    if (at > 0 && (await idAt(db, match, at)) !== page.after_id) return "lost";
    if (page.items.length === 0) return here > at ? "lost" : at > start;
    await take(db, match, page.items);
    at = page.items.at(-1)?.position ?? at;
    if (!page.more && (await placedCount(db, match)) === at) return at > start;
  }
}

/** Begins a match that was begun here, and gives it the name that it was given here. */
async function tell(db: Db, match: string, service: Service): Promise<void> {
  const mine = await matchKnown(db, match);
  if (mine && !mine.begun) {
    await service.begin(match, mine.name);
    await noteMatch(db, match, { begun: true });
  }
  if (!mine?.renamed) return;
  await service.rename(match, mine.name);
  const now = await matchKnown(db, match);
  if (now?.name === mine.name) await noteMatch(db, match, { renamed: false }); // changed meanwhile: the next time
}
