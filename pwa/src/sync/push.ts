/** Brings a match's log to the service and back. Sending twice is as good as once. */
import { beginMatch, eventsAfter, postEvents } from "../api/matches";
import type { MatchEvent } from "../api/match";
import { begunMatches, mark, rememberMatch, take, unsent, type Db } from "../store/log";

export const BATCH = 100; // chosen: some 40 kB, far below what the service takes at once

export interface Service {
  begin(id: string, name: string | null): Promise<unknown>;
  post: typeof postEvents;
  after: typeof eventsAfter;
}
export const SERVICE: Service = { begin: beginMatch, post: postEvents, after: eventsAfter };

/** Sends what is unsent, oldest first, batch after batch; stops at the first failure by throwing it. Returns the last position heard of. */
export async function push(db: Db, match: string, service: Service = SERVICE): Promise<number> {
  let last = 0;
  await begin(db, match, service);
  for (;;) {
    const waiting = await unsent<MatchEvent>(db, match, BATCH);
    if (waiting.length === 0) return last;
    const posted = await service.post(match, waiting.map(({ event }) => event));
    const refused = posted.refused.map(({ index, error }) => ({ id: waiting[index]?.id ?? "", refused: `${error.field}: ${error.expected}` }));
    await mark(db, match, [...posted.accepted, ...posted.known, ...refused]);
    last = posted.position;
    if (posted.accepted.length + posted.known.length + refused.length === 0) return last; // nothing was settled: do not ask for ever
  }
}

/** Fetches what others have logged after a position. Returns whether anything came. */
export async function pull(db: Db, match: string, position: number, service: Service = SERVICE): Promise<boolean> {
  let at = position;
  for (;;) {
    const page = await service.after(match, at);
    await take(db, match, page.items);
    at = page.items.at(-1)?.position ?? at;
    if (!page.more) return at > position;
  }
}

async function begin(db: Db, match: string, service: Service): Promise<void> {
  const mine = (await begunMatches(db)).find(({ id }) => id === match);
  if (!mine || mine.begun) return;
  await service.begin(match, mine.name);
  await rememberMatch(db, { ...mine, begun: true });
}
