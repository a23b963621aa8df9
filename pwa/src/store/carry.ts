/** Events that another device handed over, written into the log here. */
import type { Begun, Db } from "./log";

/**
 * Writes events that have no place in the match yet, or one that is known already. Those that are here only get their place;
 * a place once given stays, and what was refused stays so. `begins`: the match, where it is not known here. All or nothing.
 */
export async function carry<E extends { readonly id: string; readonly counter: number }>(db: Db, match: string, items: readonly { position: number; event: E }[], begins: Begun): Promise<void> {
  const tx = db.transaction(["rows", "matches"], "readwrite");
  const rows = tx.objectStore("rows");
  const write = async (): Promise<void> => {
    if (!(await tx.objectStore("matches").get(match))) await tx.objectStore("matches").put(begins);
    for (const { position, event } of items) {
      const known = await rows.get([match, event.id]);
      if (known && (known.position > 0 || position === 0)) continue;
      const fresh = { id: event.id, match, n: event.counter, event, tap: event.id, undo: false, said: "", refused: "" };
      await rows.put({ ...(known ?? fresh), position });
    }
  };
  const writing = write().catch((problem: unknown) => {
    tx.abort(); // what was written before it goes too
    throw problem;
  });
  await Promise.all([writing, tx.done]);
}
