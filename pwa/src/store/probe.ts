/** Whether this browser keeps anything at all: private windows and a refusal of all site data let a page store nothing. */
import { openDB } from "idb";

/** Writes a word into a database of its own, reads it again and removes it. */
export async function canStore(): Promise<boolean> {
  try {
    const db = await openDB("cornerwise-probe", 1, { upgrade: (fresh) => void fresh.createObjectStore("words") });
    await db.put("words", "kept", "probe");
    const kept = (await db.get("words", "probe")) === "kept";
    await db.delete("words", "probe");
    db.close();
    return kept;
  } catch {
    return false;
  }
}
