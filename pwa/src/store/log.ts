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
  /** Why the service refused it, "" if it did not. */
  readonly refused: string;
}

export interface Begun { readonly id: string; readonly name: string | null; readonly begun: boolean }

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

/** Writes rows in one transaction, each event made with the device's own next counter; resolves once they are on disk. */
export async function append<E>(db: Db, match: string, make: (counter: number) => readonly NewRow<E>[]): Promise<readonly Row<E>[]> {
  const tx = db.transaction(["rows", "device"], "readwrite");
  const counter = ((await tx.objectStore("device").get("counter")) as number | undefined) ?? 0;
  const rows = make(counter).map((row, i): Row<E> => ({ ...row, id: row.event.id, match, n: counter + i, position: 0, refused: "" }));
  await Promise.all([
    ...rows.map((row) => tx.objectStore("rows").add(row)), tx.objectStore("device").put(counter + rows.length, "counter"), tx.done,
  ]);
  return rows;
}

/** Writes events that came from the service; those already here only get their place. */
export async function take<E extends { readonly id: string }>(db: Db, match: string, items: readonly { position: number; event: E }[]): Promise<void> {
  const tx = db.transaction("rows", "readwrite");
  for (const { position, event } of items) {
    const known = await tx.store.get([match, event.id]);
    const fresh = { id: event.id, match, n: 0, event, tap: event.id, undo: false, said: "", refused: "" };
    await tx.store.put({ ...(known ?? fresh), position });
  }
  await tx.done;
}

/** Marks rows as taken at a position, or as refused with a reason. */
export async function mark(db: Db, match: string, marks: readonly { id: string; position?: number; refused?: string }[]): Promise<void> {
  const tx = db.transaction("rows", "readwrite");
  for (const { id, ...change } of marks) {
    const row = await tx.store.get([match, id]);
    if (row) await tx.store.put({ ...row, ...change });
  }
  await tx.done;
}

/** Returns what the service has not taken yet, our own and what others handed over, oldest first; what it refused is left aside. */
export async function unsent<E>(db: Db, match: string, most: number): Promise<readonly Row<E>[]> {
  const waiting = await db.getAllFromIndex("rows", "unsent", IDBKeyRange.bound([match, 0, 0], [match, 0, Infinity]));
  return interleaved(waiting.filter(({ refused }) => refused === "") as Row<E>[]).slice(0, most);
}

/** Returns a match's log: what the service has taken, in its order, then what it has not, our own and what others handed over, oldest first. */
export async function readLog<E>(db: Db, match: string): Promise<readonly Row<E>[]> {
  const rows = (await db.getAllFromIndex("rows", "unsent", IDBKeyRange.bound([match, 0, 0], [match, Infinity, Infinity]))) as Row<E>[];
  return inOrder(rows.filter(({ position, refused }) => position > 0 || refused === ""));
}

export const begunMatches = (db: Db): Promise<Begun[]> => db.getAll("matches");
export const rememberMatch = async (db: Db, match: Begun): Promise<void> => void (await db.put("matches", match));

/** Returns the matches with something that the service has not taken yet. */
export async function matchesWaiting(db: Db): Promise<readonly string[]> {
  const rows = await db.getAll("rows");
  return [...new Set(rows.filter(({ position, refused }) => position === 0 && refused === "").map(({ match }) => match))];
}

/** Forgets a match that was deleted. */
export async function forgetMatch(db: Db, match: string): Promise<void> {
  const tx = db.transaction(["rows", "matches"], "readwrite");
  await tx.objectStore("rows").delete(IDBKeyRange.bound([match, ""], [match, "\uffff"]));
  await tx.objectStore("matches").delete(match);
  await tx.done;
}
