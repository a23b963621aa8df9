/** The log of every match on this device, in IndexedDB. Rows are only ever added and marked, never changed. */
import { openDB, type DBSchema, type IDBPDatabase } from "idb";
import { inOrder, interleaved } from "./order";

/** One event as it lies here; `E` is the event itself, which this room does not look into. */
export interface Row<E> {
  readonly id: string;
  readonly match: string;
  /** Grows by one with each row of this device. */
  readonly n: number;
  readonly event: E;
  /** What was done at one tap: its events are undone together. */
  readonly tap: string;
  /** The tap took something back: it is not itself something to take back. */
  readonly undo: boolean;
  /** In words, for the button that undoes it. */
  readonly said: string;
  /** Its place in the match, once the service has taken it; 0 while it has not. */
  readonly position: number;
  /** The place it had before the service lost the match's end: it is sent again in that order. */
  readonly stood?: number;
  /** Why the service refused it, "" if it did not. */
  readonly refused: string;
  /** It was refused, and the coach does not want to see it any more. */
  readonly dropped?: boolean;
}

/** A match as this device knows it beside its log. */
export interface Begun {
  readonly id: string;
  readonly name: string | null;
  /** The service has it. */
  readonly begun: boolean;
  /** The name was changed here, and the service does not know it yet. */
  readonly renamed?: boolean;
  /** When it was begun here, by this device's clock. [ms] */
  readonly since_ms?: number;
  /** When everything was last exchanged, by this device's clock. [ms] */
  readonly heard_ms?: number;
  /** The service said that it has no such match, or no more. */
  readonly missing?: boolean;
  /** When the service was found to have lost some of its log, by this device's clock. [ms] */
  readonly lost_ms?: number;
  /** It is to stay on this device: nothing of it is sent. */
  readonly stays?: boolean;
  /** What its log came to when it was last counted, and for which log: this room does not look into it. */
  readonly summary?: unknown;
  readonly counted?: string;
}

interface Shelf extends DBSchema {
  rows: { key: [string, string]; value: Row<unknown>; indexes: { unsent: [string, number, number] } };
  matches: { key: string; value: Begun };
  device: { key: string; value: number | string };
}

export type Db = IDBPDatabase<Shelf>;

const MIGRATIONS: readonly ((db: Db) => void)[] = [
  (db) => {
    db.createObjectStore("rows", { keyPath: ["match", "id"] }).createIndex("unsent", ["match", "position", "n"]);
    db.createObjectStore("matches", { keyPath: "id" });
    db.createObjectStore("device");
  },
];

export const openLog = (name = "cornerwise-log"): Promise<Db> =>
  openDB<Shelf>(name, MIGRATIONS.length, {
    upgrade: (db, from) => MIGRATIONS.slice(from).forEach((migrate) => migrate(db)),
    blocking: (_from, _to, event) => (event.target as unknown as IDBDatabase).close(), // a newer app in another tab must not wait for this one
  });

/** Returns this device's name, made once. */
export async function deviceName(db: Db, make: () => string): Promise<string> {
  const tx = db.transaction("device", "readwrite");
  const known = await tx.store.get("name");
  const name = typeof known === "string" ? known : make();
  if (name !== known) await tx.store.put(name, "name");
  await tx.done;
  return name;
}

export interface NewRow<E> { readonly event: E & { readonly id: string }; readonly tap: string; readonly undo: boolean; readonly said: string }

/**
 * Makes the rows of a tap. `counter`: the device's own next one. `now_ms`: the time by this device's clock, but never before
 * that of an earlier tap, however the clock jumps: ids made with both are in the order of the taps.
 */
export type Make<E> = (counter: number, now_ms: number) => readonly NewRow<E>[];

/**
 * Writes rows in one transaction, all or nothing; resolves once they are on disk.
 * `begins`: the match itself, when this is the first that is written of it.
 */
export async function append<E>(db: Db, match: string, make: Make<E>, begins?: Begun): Promise<readonly Row<E>[]> {
  const tx = db.transaction(["rows", "device", "matches"], "readwrite");
  const device = tx.objectStore("device");
  const counter = ((await device.get("counter")) as number | undefined) ?? 0;
  const now_ms = Math.max(Date.now(), ((await device.get("time")) as number | undefined) ?? 0);
  const rows = make(counter, now_ms).map((row, i): Row<E> => ({ ...row, id: row.event.id, match, n: counter + i, position: 0, refused: "" }));
  await Promise.all([
    ...rows.map((row) => tx.objectStore("rows").add(row)),
    ...(begins ? [tx.objectStore("matches").put(begins)] : []),
    device.put(counter + rows.length, "counter"), device.put(now_ms, "time"), tx.done,
  ]);
  return rows;
}

/** Writes events that came from the service; those already here only get their place. */
export async function take<E extends { readonly id: string }>(db: Db, match: string, items: readonly { position: number; event: E }[]): Promise<void> {
  const tx = db.transaction("rows", "readwrite");
  for (const { position, event } of items) {
    const known = await tx.store.get([match, event.id]);
    const fresh = { id: event.id, match, n: 0, event, tap: event.id, undo: false, said: "", refused: "" };
    await tx.store.put({ ...(known ?? fresh), position: Math.max(position, known?.position ?? 0) }); // a place once given stays
  }
  await tx.done;
}

/** Marks rows as taken at a position, or as refused with a reason. */
export async function mark(db: Db, match: string, marks: readonly { id: string; position?: number; refused?: string; dropped?: boolean }[]): Promise<void> {
  const tx = db.transaction("rows", "readwrite");
  for (const { id, ...change } of marks) {
    const row = await tx.store.get([match, id]);
    if (row) await tx.store.put({ ...row, ...change });
  }
  await tx.done;
}

/** Returns what the service has not taken yet, our own and what others handed over, oldest first; what it refused is left aside. */
export async function unsent<E>(db: Db, match: string, most: number): Promise<readonly Row<E>[]> {
  return interleaved((await notTaken<E>(db, match)).filter(({ refused }) => refused === "")).slice(0, most);
}

/** Returns what the service refused and the coach has not dropped, oldest first. */
export async function refusedRows<E>(db: Db, match: string): Promise<readonly Row<E>[]> {
  return (await notTaken<E>(db, match)).filter(({ refused, dropped }) => refused !== "" && !dropped);
}

const notTaken = <E>(db: Db, match: string): Promise<Row<E>[]> =>
  db.getAllFromIndex("rows", "unsent", IDBKeyRange.bound([match, 0, 0], [match, 0, Infinity])) as Promise<Row<E>[]>;

/**
 * Returns the position up to which this device has everything of a match, 0 when it has nothing. Our own events may stand
 * further up already, beyond others' that have not been fetched.
 */
export async function completeTo(db: Db, match: string): Promise<number> {
  const index = db.transaction("rows").store.index("unsent");
  const [count, last] = await Promise.all([index.count(placed(match)), index.openCursor(placed(match), "prev")]);
  if (!last || last.value.position === count) return count;
  return complete((await db.getAllFromIndex("rows", "unsent", placed(match))).map(({ position }) => position));
}

const placed = (match: string): IDBKeyRange => IDBKeyRange.bound([match, 1, 0], [match, Infinity, Infinity]);

/** Returns how many events of a match have a place. */
export const placedCount = (db: Db, match: string): Promise<number> => db.countFromIndex("rows", "unsent", placed(match));

/** Returns which event stands at a place of a match; null for none, or for several, of which one must have come from another log. */
export async function idAt(db: Db, match: string, position: number): Promise<string | null> {
  const rows = await db.getAllFromIndex("rows", "unsent", IDBKeyRange.bound([match, position, 0], [match, position, Infinity]));
  return rows.length === 1 ? (rows[0]?.id ?? null) : null;
}

/** Takes the places of all events of a match: the service has another log now, so all of them are as good as unsent. */
export async function losePlaces(db: Db, match: string): Promise<void> {
  const tx = db.transaction("rows", "readwrite");
  const rows = await tx.store.index("unsent").getAll(placed(match));
  await Promise.all([...rows.map((row) => tx.store.put({ ...row, stood: row.position, position: 0 })), tx.done]);
}

/** Returns how far positions, in their order, go without a gap. */
export function complete(positions: readonly number[]): number {
  const gap = positions.findIndex((position, i) => position !== i + 1);
  return gap === -1 ? positions.length : gap;
}

/** Returns a match's log: what the service has taken, in its order, then what it has not, our own and what others handed over, oldest first. */
export async function readLog<E>(db: Db, match: string): Promise<readonly Row<E>[]> {
  const rows = (await db.getAllFromIndex("rows", "unsent", IDBKeyRange.bound([match, 0, 0], [match, Infinity, Infinity]))) as Row<E>[];
  return inOrder(rows.filter(({ position, refused }) => position > 0 || refused === ""));
}

export const begunMatches = (db: Db): Promise<Begun[]> => db.getAll("matches");
export const rememberMatch = async (db: Db, match: Begun): Promise<void> => void (await db.put("matches", match));
export const matchKnown = (db: Db, id: string): Promise<Begun | undefined> => db.get("matches", id);

/** Writes down what has become known of a match that the service has; one of which nothing is known here begins with `begun`. */
export async function noteMatch(db: Db, id: string, change: Partial<Begun>): Promise<void> {
  const tx = db.transaction("matches", "readwrite");
  const known = (await tx.store.get(id)) ?? { id, name: null, begun: true };
  await Promise.all([tx.store.put({ ...known, ...change, id }), tx.done]);
}

/** Returns the matches with something that the service does not have yet. */
export async function matchesWaiting(db: Db): Promise<readonly string[]> {
  const begun = await begunMatches(db);
  const waiting: string[] = [];
  for (const match of await matchesWithUnplaced(db)) if ((await unsent(db, match, 1)).length > 0) waiting.push(match);
  const untold = begun.filter((match) => match.renamed && !match.missing).map(({ id }) => id);
  const left = new Set(begun.filter(({ missing, stays }) => missing || stays).map(({ id }) => id));
  return [...new Set([...waiting, ...untold])].filter((id) => !left.has(id));
}

/** Returns the matches with rows that have no place yet, looking at one key of each match only: it is asked for every few seconds. */
async function matchesWithUnplaced(db: Db): Promise<readonly string[]> {
  const found: string[] = [];
  let cursor = await db.transaction("rows").store.index("unsent").openKeyCursor();
  while (cursor) {
    const [match, position] = cursor.key;
    if (position === 0) found.push(match);
    cursor = await cursor.continue([match, Infinity, Infinity]);
  }
  return found;
}

/** Forgets a match that was deleted. */
export async function forgetMatch(db: Db, match: string): Promise<void> {
  const tx = db.transaction(["rows", "matches"], "readwrite");
  await Promise.all([
    tx.objectStore("rows").delete(IDBKeyRange.bound([match, ""], [match, "\uffff"])), tx.objectStore("matches").delete(match), tx.done,
  ]);
}
