/** A match that was deleted goes from this device whole: its log, and what was last shown of it. */
import { forgetBelow } from "../../store/kept";
import { forgetMatch, type Db } from "../../store/log";

export async function forgetDeleted(db: Db, id: string): Promise<void> {
  await forgetMatch(db, id);
  await Promise.all([forgetBelow(`match/${id}/`), forgetBelow(`review/${id}/`)]);
}
