/** The calls of our next serves: asked for ahead, kept by their request, since the same situations come round again. */
import type { Call, CallAnswer, CallRequest, Kind } from "../../api/types";
import type { Coming, Pair, Signals } from "../../api/match";
import type { PreparedRequest } from "../../api/roster";
import { engine } from "../ask";
import { state } from "../state";
import { opponentOf } from "../opponents/kept";
import { playerOf } from "../team/roster";
import { live, type Live } from "./live";
import { prefs, type Prefs } from "./prefs";

const MOST_KEPT = 60; // chosen: six rotations, ten servers

/** Returns the kind that a server of ours serves; null where she has several, and each call says which. */
export function kindOf(number: number | null, level: string | null, { kinds }: Prefs, us: string | null): Kind | null {
  const { stock } = state.get();
  const own = playerOf(us, number)?.serves ?? [];
  const chosen = number === null ? undefined : kinds[String(number)];
  if (!chosen && own.length > 1) return null;
  const usual = stock?.levels.find((l) => l.level === (level ?? stock.start_level))?.usual_kind;
  return chosen ?? own[0]?.kind ?? usual ?? "standing_float";
}

/** Returns how many kinds of serve a call is the best of; 1 where nothing was to be chosen. */
export const weighed = (number: number | null, liked: Prefs, us: string | null): number =>
  kindOf(number, null, liked, us) === null ? (playerOf(us, number)?.serves.length ?? 1) : 1;

/** Returns what to ask for one of our next serves, and what is known of our server, null while their setter is not known. */
export function requestFor({ request, server }: Coming, now: Prefs, match: string, { us, them }: Teams): PreparedRequest | null {
  if (!request?.opponent) return null;
  const net_height_m = now.nets[match];
  const own = server.number === null ? undefined : now.kinds[String(server.number)];
  const player = playerOf(us, server.number);
  const opponent = opponentOf(them);
  const asked: CallRequest = {
    ...request, opponent: request.opponent,
    ...(net_height_m !== undefined && { net_height_m }),
    server: own ? { kind: own } : {},
    policy: now.ceiling === "start" ? { use_start_ceiling: true } : now.ceiling === null ? {} : { error_ceiling: now.ceiling },
  };
  return { request: asked, opponent, player: player && { reach_m: player.reach_m, serves: player.serves }, kind: own ?? null };
}

const keyOf = (asked: PreparedRequest): string => JSON.stringify(asked);
type Teams = Pair<string | null>;
const NAMELESS: Teams = { us: null, them: null };
const teamsOf = ({ answer }: Live): Teams => answer?.state.teams ?? NAMELESS;

export interface ToServe { readonly coming: Coming; readonly answer: CallAnswer | null; readonly serve: string }

/** Returns our next serves with their calls, as far as they are there. */
export function toServe(shown: Live, now: Prefs): ToServe[] {
  const { answer, calls, id } = shown;
  return (answer?.coming ?? []).map((coming) => {
    const request = requestFor(coming, now, id ?? "", teamsOf(shown));
    return { coming, answer: request ? (calls[keyOf(request)] ?? null) : null, serve: `${coming.set_number}/${coming.rally_number}` };
  });
}

/** Returns the call that is shown for a serve: the coach's pick, else the best. */
export function shownOf({ answer, serve }: ToServe, pick: Live["pick"]): Call | null {
  if (!answer) return null;
  const index = pick?.serve === serve ? pick.index : 0;
  return index === 0 ? answer.best : (answer.alternatives[index - 1] ?? answer.best);
}

/** Asks for the calls that are not there yet, the nearest first. */
export const askAhead = (): Promise<void> => askFor(live.get().answer?.coming ?? []);

export async function askFor(serves: readonly Coming[]): Promise<void> {
  const { id } = live.get();
  for (const coming of serves) {
    const request = requestFor(coming, prefs.get(), id ?? "", teamsOf(live.get()));
    if (!request || live.get().calls[keyOf(request)]) continue;
    const known = request.opponent || request.player;
    const call = await (known ? engine.chosen(request) : engine.call(request.request));
    if (live.get().id !== id) return;
    const kept = Object.entries(live.get().calls).slice(-MOST_KEPT + 1);
    live.set({ calls: Object.fromEntries([...kept, [keyOf(request), call]]) });
  }
}

/** Returns a call's hand signal in the team's own code. */
export function poses({ signal, spot, target }: Call, code: Signals | undefined): Call["signal"] {
  if (!code) return signal;
  const fingers = { spot: code.spot[spot.name], zone: code.zone[String(target.zone)], depth: code.depth[target.depth] };
  return signal.map((pose) => ({ ...pose, fingers: fingers[pose.of] ?? pose.fingers }));
}
