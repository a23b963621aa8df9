/** The review of a match or of one set, counted from the log on this device. */
import { useEffect, useState } from "preact/hooks";
import type { MatchEvent, MatchItem, Review } from "../../api/match";
import { showMatch } from "../../api/matches";
import { keep, recall } from "../../store/kept";
import { matchKnown, readLog } from "../../store/log";
import { pull } from "../../sync/push";
import { engine } from "../ask";
import { disk } from "./disk";
import { live } from "./live";
import { summaryOf, type Summed } from "./summary";

/** Returns a match's log: what is on the screen, else what is on the disk, else what the service has. */
export async function logOf(id: string): Promise<readonly MatchEvent[]> {
  if (live.get().id === id && live.get().rows.length > 0) return live.get().rows.map(({ event }) => event);
  const db = await disk;
  const here = await readLog<MatchEvent>(db, id);
  const fetched = await pull(db, id).catch((problem: unknown) => { if (here.length === 0) throw problem; return false; });
  return (fetched ? await readLog<MatchEvent>(db, id) : here).map(({ event }) => event);
}

/** Returns a match's name and where it stands: as the service says, else as it was counted here. */
export async function nameOf(id: string): Promise<Summed & { readonly name: string | null }> {
  try {
    return await showMatch(id);
  } catch {
    const known = await disk.then((db) => matchKnown(db, id));
    const summary = (known?.summary as Summed | undefined) ?? summaryOf(await logOf(id).then((events) => engine.replay(events)));
    const listed = (await recall<{ readonly items: readonly MatchItem[] }>("matches"))?.items.find((item) => item.id === id);
    return { ...summary, name: known?.name ?? listed?.name ?? null };
  }
}

/** Returns the review, kept from last time until the fresh one is there; counted again when `mark` changes. */
export function useReview(id: string | null, set_number: number | null, mark: string): { readonly review: Review | null; readonly failed: boolean } {
  const [found, show] = useState<{ review: Review | null; failed: boolean }>({ review: null, failed: false });
  useEffect(() => {
    let wanted = true;
    if (id) {
      const name = `review/${id}/${set_number ?? "all"}`;
      void recall<Review>(name).then((kept) => void (wanted && kept && show((now) => (now.review ? now : { review: kept, failed: false }))));
      logOf(id).then((events) => engine.review(events, "us", set_number)).then(
        (review) => { if (wanted) show({ review, failed: false }); void keep(name, review); },
        () => void (wanted && show((now) => ({ ...now, failed: true }))),
      );
    }
    return () => void (wanted = false);
  }, [id, set_number, mark]);
  return found;
}
