/** Removing from this device what a club's server has. */
import { begunMatches, forgetMatch, matchesWaiting, refusedRows } from "../../store/log";
import { forgetOpponents } from "../opponents/kept";
import { whenHeard, whenLeft } from "../session";
import { forgetRoster, renewKept } from "../team/roster";
import { disk } from "./disk";
import { forgetListed } from "./list";
import { live } from "./live";

/** Forgets the list, and with `all` the matches of which the server has everything, but for the one on the screen. */
async function forgetSent(goes: "names" | "all"): Promise<void> {
  if (goes === "all") await forgetLogs();
  await forgetListed();
}

async function forgetLogs(): Promise<void> {
  try {
    const db = await disk;
    const waiting = new Set(await matchesWaiting(db));
    for (const { id, begun, missing } of await begunMatches(db)) {
      if (!begun || missing || waiting.has(id) || id === live.get().id || (await refusedRows(db, id)).length > 0) continue;
      await forgetMatch(db, id);
    }
  } catch {
    // no storage here: nothing is there
  }
}

/** From now on a device that leaves its club keeps only what the server does not have, and of one that stays no name that the club deleted. */
export function clearWhenLeft(): void {
  whenHeard(renewKept);
  whenLeft(forgetSent);
  whenLeft(forgetRoster);
  whenLeft(forgetOpponents);
}
