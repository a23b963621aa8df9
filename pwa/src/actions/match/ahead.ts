/** What the log will say after this rally, asked for while it is played: so the next call is there with the tap. */
import { v7 } from "uuid";
import { SIDES, type EventBody, type MatchEvent, type Pair, type ReplayAnswer, type Side } from "../../api/match";
import { engine } from "../ask";
import { askFor } from "./calls";
import { countedRows, isFresh, live, markOf } from "./live";
import { placeOf } from "./taps";

let looked: { readonly mark: string; readonly after: Partial<Pair<ReplayAnswer>> } = { mark: "", after: {} };

/** Asks how it stands if we, or they, win the present rally, and for the calls then. Stops when a tap came meanwhile. */
export async function lookAhead(): Promise<void> {
  const { id, rows, answer } = live.get();
  const mark = markOf(rows);
  if (!answer || answer.state.status !== "in_play" || looked.mark === mark) return;
  const events = rows.map(({ event }) => event);
  for (const winner of SIDES) {
    const won: EventBody = { type: "rally_won", winner };
    const envelope = { id: v7(), device: "ahead", counter: 0, seen: 0, ...placeOf(answer.state) };
    const after = await engine.replay([...events, { ...envelope, ...won } as MatchEvent]);
    if (live.get().id !== id || markOf(live.get().rows) !== mark) return;
    looked = { mark, after: { ...(looked.mark === mark && looked.after), [winner]: after } };
  }
  // The score after either tap is there before the first call is worked out: it waits for none of them.
  for (const winner of SIDES) {
    await askFor(looked.after[winner]?.coming.slice(0, 1) ?? []);
    if (live.get().id !== id || markOf(live.get().rows) !== mark) return;
  }
}

const winnerOf = (bodies: readonly EventBody[]): Side | undefined => bodies.flatMap((body) => (body.type === "rally_won" ? [body.winner] : []))[0];

/** Returns how it stands after a tap that ends the rally shown, if that was asked for; its parts are still to be counted. */
export function foreseen(bodies: readonly EventBody[]): ReplayAnswer | undefined {
  const now = live.get();
  const winner = winnerOf(bodies);
  const asShown = isFresh(now) && countedRows(now).length === now.rows.length && looked.mark === markOf(now.rows);
  return asShown && winner && bodies.every(({ type }) => type === "rally_won" || type === "call_shown") ? looked.after[winner] : undefined;
}
