/** A tap becomes events: on the disk first, then on the screen, then to the service. */
import type { EventBody, MatchEvent, RallyRecord } from "../../api/match";
import type { Call } from "../../api/types";
import { append, completeTo, type Begun } from "../../store/log";
import { tellTabs } from "../../sync/tabs";
import { afterPaint } from "../paint";
import { buzz } from "./device";
import { disk, thisDevice } from "./disk";
import { exchangeSoon } from "./exchange";
import { keepUp } from "./follow";
import { foreseen } from "./ahead";
import { countedRows, isFresh, live, markOf } from "./live";
import { lastTap, resultsOf, takenBack } from "./standing";
import { placeOf, restated, rowsOf, shown, type Change, type Place, type Placed } from "./taps";

export interface Said { readonly said: string; readonly undo?: boolean }

/** Returns the place of what happens now: that of the state shown, moved on by the results it does not count yet. */
export function placeNow(): Place {
  const now = live.get();
  if (!now.answer) return { set_number: 0, rally_number: 0 };
  const place = placeOf(now.answer.state);
  return isFresh(now) ? place : { ...place, rally_number: Math.max(1, place.rally_number + resultsOf(now.rows, place.set_number) - resultsOf(countedRows(now), place.set_number)) };
}

/** Writes one tap's events to a match's log; resolves once they are on the disk. `begins`: the match itself, with its first events. */
export async function write(match: string, bodies: readonly Placed[], { said, undo = false }: Said, place: Place, begins?: Begun): Promise<void> {
  const [db, device] = await Promise.all([disk, thisDevice()]);
  const seen = await completeTo(db, match);
  const rows = await append<MatchEvent>(db, match, rowsOf(bodies, { device, seen, place, said, undo }), begins);
  tellTabs(match);
  if (live.get().id !== match) return;
  const known = new Set(live.get().rows.map(({ id }) => id)); // a round that read the disk may have been quicker
  const after = bodies.every(({ at }) => at === undefined) ? foreseen(bodies) : undefined;
  const all = [...live.get().rows, ...rows.filter(({ id }) => !known.has(id))];
  live.set({ rows: all, undone: undo ? said : null, ...(after && { answer: after, counted: markOf(all), foreseen: true }) });
}

/** Logs what happened in the match on the screen. */
export async function log(bodies: readonly Placed[], said: Said): Promise<void> {
  const { id, following } = live.get();
  if (!id || following || bodies.length === 0) return;
  buzz();
  try {
    await write(id, bodies, said, placeNow());
    if (live.get().unsaved) live.set({ unsaved: false });
  } catch {
    live.set({ unsaved: true });
  }
  afterPaint(() => {
    keepUp();
    exchangeSoon();
  });
}

/** Logs a part or the result of our serve, and before it, once a rally, the call that was on the screen. */
export async function logServe(body: EventBody, said: string, call: Call | null): Promise<void> {
  const now = live.get();
  const first = isFresh(now) && now.answer?.state.serving === "us" && !now.answer.state.rally?.called;
  await log(call && first ? [shown(call), body] : [body], { said });
}

export async function undo(): Promise<void> {
  const tap = lastTap(live.get().rows, live.get().device);
  if (tap) await log(takenBack(tap), { said: tap.said, undo: true });
}

/** Says anew how a rally went: the present one or one of the last five. The call that was shown stays. */
export async function correct(record: RallyRecord, change: Change, said: string): Promise<void> {
  const { rows, answer } = live.get();
  if (!answer) return;
  const calls = new Set(rows.filter(({ event }) => event.type === "call_shown" || event.type === "reception_formation_seen").map(({ id }) => id));
  const at = { set_number: answer.state.set_number, rally_number: record.rally_number };
  await log(restated(record, calls, change).map((body) => ({ ...body, at })), { said });
}
