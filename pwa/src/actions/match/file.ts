/** A match's log, and its serves as a table, as files made on this device. */
import { engine } from "../ask";
import { logOf, nameOf } from "./review";

/** Saves the log in the shape in which the service gives it out: the match and its events in their order. */
export async function saveLog(id: string): Promise<void> {
  const events = await logOf(id);
  const { signals: _, ...match } = { id, signals: null, ...(await nameOf(id)) }; // the code of the hands is the team's, not the match's
  save(`match-${id}.json`, "application/json", JSON.stringify({ match, events }));
}

/** Saves our serves as a table; returns whether it could be made. */
export async function saveServes(id: string): Promise<boolean> {
  try {
    const [events, { name }] = await Promise.all([logOf(id), nameOf(id)]);
    save(`serves-${id}.csv`, "text/csv", (await engine.serves(events, name)).text);
    return true;
  } catch {
    return false;
  }
}

export function save(name: string, type: string, text: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // the browser reads it after the click
}
