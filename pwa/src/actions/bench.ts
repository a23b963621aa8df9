/** A server view that joined by a code: it asks for one thing, the call of its match. */
import { matchCall, type MatchCall } from "../api/club";
import { Refused } from "../api/problem";
import { createStore } from "../store/store";
import { momentNow, type Moment } from "./match/age";
import { lookAtSession, session } from "./session";

export interface Bench {
  readonly call: MatchCall | null;
  /** When the call was asked for last. */
  readonly heard: Moment | null;
  /** playing: there is a call; between: no serve to call now; nothing: no match goes on; gone: the server cannot be reached. */
  readonly state: "waiting" | "playing" | "between" | "nothing" | "gone";
}

export const bench = createStore<Bench>({ call: null, heard: null, state: "waiting" });

const TURN_MS = 3000; // chosen: a serve comes some seconds after the rally before it

/** Asks again and again while the page is seen. Returns how to stop. */
export function watchBench(): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let going = true;
  const turn = async (): Promise<void> => {
    clearTimeout(timer);
    if (document.visibilityState === "visible") await look();
    if (going) timer = setTimeout(() => void turn(), TURN_MS);
  };
  const seen = (): void => void (document.visibilityState === "visible" && turn());
  document.addEventListener("visibilitychange", seen);
  void turn();
  return () => {
    going = false;
    clearTimeout(timer);
    document.removeEventListener("visibilitychange", seen);
  };
}

const CONFLICT = 409; // there is no serve of ours to call

async function look(): Promise<void> {
  const answered = await lookAtSession();
  const { who, now_playing } = session.get();
  if (who?.role !== "server") return bench.set({ call: null, heard: null, state: "waiting" });
  if (!now_playing) return bench.set({ call: null, state: answered ? "nothing" : "gone" });
  try {
    bench.set({ call: await matchCall(now_playing), heard: momentNow(), state: "playing" });
  } catch (problem) {
    if (!(problem instanceof Refused)) return bench.set({ state: "gone" }); // the last call stays, with its age
    bench.set({ call: null, state: problem.status === CONFLICT ? "between" : "nothing" });
  }
}
