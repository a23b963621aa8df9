/** Events that another device handed over, written into the log here. */
import type { Db } from "./log";

/**
 * Writes events that have no place in the match yet, or one that is known already. Those that are here only get their place;
 * a place once given stays, and what was refused stays so. All or nothing.
 */
export async function carry<E extends { readonly id: string; readonly counter: number }>(db: Db, match: string, items: readonly { position: number; event: E }[]): Promise<void> {
  const tx = db.transaction("rows", "readwrite");
  const write = async (): Promise<void> => {
    for (const { position, event } of items) {
      const known = await tx.store.get([match, event.id]);
      if (known && (known.position > 0 || position === 0)) continue;
      const fresh = { id: event.id, match, n: event.counter, event, tap: event.id, undo: false, said: "", refused: "" };
      await tx.store.put({ ...(known ?? fresh), position });
    }
  };
  await Promise.all([write(), tx.done]);
}
