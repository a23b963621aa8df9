/** What outlives a reload, in IndexedDB: one small drawer of named values. */
import { openDB, type DBSchema, type IDBPDatabase } from "idb";

interface Drawer extends DBSchema { kept: { key: string; value: unknown } }

/** Part of every key: values of another shape are as good as not there. */
const SHAPE = 1;

let opened: Promise<IDBPDatabase<Drawer>> | undefined;
const drawer = (): Promise<IDBPDatabase<Drawer>> =>
  (opened ??= openDB<Drawer>("cornerwise", 1, { upgrade: (db) => void db.createObjectStore("kept") }));

const named = (name: string): string => `${name}/${SHAPE}`;

/** Returns what was kept, or undefined: nothing there, or no storage allowed. */
export async function recall<T>(name: string): Promise<T | undefined> {
  try {
    return (await (await drawer()).get("kept", named(name))) as T | undefined;
  } catch {
    return undefined;
  }
}

/** Removes what was kept, for good. */
export async function forget(name: string): Promise<void> {
  try {
    await (await drawer()).delete("kept", named(name));
  } catch {
    return;
  }
}

/** Removes what was kept under names that begin so, for good. */
export async function forgetBelow(beginning: string): Promise<void> {
  try {
    await (await drawer()).delete("kept", IDBKeyRange.bound(beginning, `${beginning}\uffff`));
  } catch {
    return;
  }
}

/** Keeps a value; resolves once it is on disk. Where no storage is allowed the app works on, without memory. */
export async function keep(name: string, value: unknown): Promise<void> {
  try {
    await (await drawer()).put("kept", value, named(name));
  } catch {
    return;
  }
}

/** Removes everything that was kept, but for these names. */
export async function forgetAllBut(names: readonly string[]): Promise<void> {
  try {
    const stays = new Set(names.map(named));
    const tx = (await drawer()).transaction("kept", "readwrite");
    const gone = (await tx.store.getAllKeys()).filter((key) => !stays.has(key));
    await Promise.all([...gone.map((key) => tx.store.delete(key)), tx.done]);
  } catch {
    return; // no storage allowed: nothing is there
  }
}
