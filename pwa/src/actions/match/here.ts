/** Matches that only this device has, begun while nobody was signed in: they go to a club only when whoever signs in says so. */
import { begunMatches, noteMatch } from "../../store/log";
import { disk } from "./disk";
import { exchangeNow } from "./exchange";

const only = async (): Promise<readonly string[]> =>
  (await begunMatches(await disk)).filter(({ begun, missing, stays }) => !begun && !missing && !stays).map(({ id }) => id);

/** Returns how many matches whoever signs in would hand over. */
export const countOnlyHere = (): Promise<number> => only().then((ids) => ids.length, () => 0); // without a disk there is none

/** Keeps them on this device while somebody signs in; returns how to let them go, where that failed. */
export async function keepHere(): Promise<() => Promise<void>> {
  const ids = await only();
  await say(ids, true);
  return () => say(ids, false);
}

async function say(ids: readonly string[], stays: boolean): Promise<void> {
  for (const id of ids) await noteMatch(await disk, id, { stays });
}

/** Hands a match that was kept here to the club after all. */
export async function giveToClub(id: string): Promise<void> {
  await say([id], false);
  exchangeNow();
}
