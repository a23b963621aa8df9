/** Whether this browser keeps what is given to it: private windows and a refusal of all site data let a page store nothing. */
import { openDB } from "idb";

/** Writes a word into a database of its own and removes it again. */
export async function canStore(): Promise<boolean> {
  try {
    const db = await openDB("cornerwise-probe", 1, { upgrade: (fresh) => void fresh.createObjectStore("words", { autoIncrement: true }) });
    await db.delete("words", await db.add("words", "kept"));
    db.close();
    return true;
  } catch {
    return false;
  }
}

/** Writes as many bytes and removes them again: browsers tell a page a round number, not how much room there is. */
export async function hasRoom(bytes: number): Promise<boolean> {
  const place = `probe-${crypto.randomUUID()}`;
  try {
    await (await caches.open(place)).put("/probe", new Response(new Uint8Array(bytes)));
    return true;
  } catch (problem) {
    return !(problem instanceof DOMException && problem.name === "QuotaExceededError"); // no such storage here: it says nothing about room
  } finally {
    await globalThis.caches?.delete(place).catch(() => false);
  }
}
