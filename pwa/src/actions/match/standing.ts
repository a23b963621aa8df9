/** What of a log stands, and what undo takes back. Retractions are events too: nothing is ever removed. */
import type { EventBody, MatchEvent } from "../../api/match";
import type { Row } from "../../store/log";
import { inWords } from "./words";

type Rows = readonly Row<MatchEvent>[];

/** Returns the ids of the events that were taken back: from the last to the first, a retraction that stands drops its event. */
export function dropped(events: readonly MatchEvent[]): ReadonlySet<string> {
  const gone = new Set<string>();
  for (const event of [...events].reverse()) {
    if (event.type === "retracted" && !gone.has(event.id)) gone.add(event.event_id);
  }
  return gone;
}

export interface Tap { readonly ids: readonly string[]; readonly said: string }

const BY_ITSELF: readonly MatchEvent["type"][] = ["match_opened", "call_shown", "retracted"];

/** Whether one happened before the rally of the other; the start of a set is before its first rally and carries its number. */
const comesBefore = (a: MatchEvent, b: MatchEvent): boolean =>
  a.set_number < b.set_number || (a.set_number === b.set_number && (a.rally_number < b.rally_number || a.type === "set_started"));

/**
 * Returns what the next undo takes back: the last tap on this device of which something stands, newest event first; null when there
 * is none. What others logged is never taken back by it, and neither is a tap from before a rally that others have logged since:
 * that is what the list of rallies is for.
 */
export function lastTap(rows: Rows, device: string): Tap | null {
  const gone = dropped(rows.map(({ event }) => event));
  const seen = new Set<string>();
  const since: MatchEvent[] = []; // others' results after the tap looked at
  for (const { id, event, tap, undo } of [...rows].reverse()) {
    if (event.device !== device) {
      if (isResult(event) && !gone.has(id)) since.push(event);
      continue;
    }
    if (undo || seen.has(tap)) continue;
    seen.add(tap);
    const stand = rows.filter((row) => row.tap === tap && !gone.has(row.id));
    const telling = stand.findLast(({ event: e }) => !BY_ITSELF.includes(e.type));
    if (telling) return since.some((result) => comesBefore(telling.event, result)) ? null : { ids: stand.map((row) => row.id).reverse(), said: telling.said || inWords(telling.event) };
  }
  return null;
}

export const takenBack = ({ ids }: Tap): EventBody[] => ids.map((event_id) => ({ type: "retracted", event_id }));

export const isResult = (event: MatchEvent): boolean =>
  event.type === "rally_won" || event.type === "rally_replayed" || (event.type === "wrong_server_called" && event.found === "at_service");

/** Returns how many results of a set stand: each moves what comes next on by one rally. */
export function resultsOf(rows: Rows, set_number: number): number {
  const gone = dropped(rows.map(({ event }) => event));
  return rows.filter(({ id, event }) => event.set_number === set_number && isResult(event) && !gone.has(id)).length;
}
