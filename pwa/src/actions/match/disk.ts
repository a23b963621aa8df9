/** The log on this device, opened once. */
import { v7 } from "uuid";
import type { MatchEvent } from "../../api/match";
import { deviceName, openLog, readLog } from "../../store/log";
import { live } from "./live";

export const disk = openLog();
disk.catch(() => undefined); // said where it is used

export const thisDevice = async (): Promise<string> => deviceName(await disk, () => `device ${v7().slice(-8)}`);

/** Shows the log of the match on the screen as it lies on the disk. What is tapped while it is read is not lost from the screen. */
export async function reread(id: string): Promise<void> {
  const db = await disk;
  for (;;) {
    const before = live.get().rows;
    const rows = await readLog<MatchEvent>(db, id);
    if (live.get().id !== id) return;
    if (live.get().rows !== before) continue;
    const same = rows.length === before.length && rows.every(({ id: of, position }, i) => of === before[i]?.id && position === before[i].position);
    return same ? undefined : live.set({ rows });
  }
}
