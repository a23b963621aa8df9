import { useEffect } from "preact/hooks";
import { bench, watchBench, type Bench } from "../../actions/bench";
import { caution } from "../../actions/caution";
import { ageOf, inAges, OUTDATED_MS } from "../../actions/match/age";
import { stayAwake } from "../../actions/match/device";
import { session } from "../../actions/session";
import { state } from "../../actions/state";
import type { MatchCall } from "../../api/club";
import { Announcer } from "../../parts/Announcer";
import { ServersCourt } from "../../parts/court/Court";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { useTick } from "../match/Sync";
import { Caution } from "../Caution";
import { Words } from "../ServerView";

/** All that a server view sees: the call for our next serve, large, with its age. */
export function BenchView() {
  const now = useStore(bench);
  const { who } = useStore(session);
  const { settings } = useStore(state);
  useTick();
  useEffect(watchBench, []);
  useEffect(() => {
    void stayAwake(true);
    return () => void stayAwake(false);
  }, []);
  const { read } = useStore(caution);
  const { call } = now;
  const age_ms = now.heard ? ageOf(now.heard) : null;
  const old = call !== null && (age_ms === null || age_ms >= OUTDATED_MS);
  if (!read) return <main class="server-view"><Caution /></main>;
  return (
    <main class="server-view bench">
      <header class="top"><span class="caption">{who?.team ?? "One match"} · {who?.club.name}</span><Link to="/join">Another code</Link></header>
      {call ? (
        <div class={`poster${old ? " stale" : ""}`}>
          <Words call={call.best} />
          <ServersCourt answer={call} call={call.best} units={settings} />
        </div>
      ) : <div class="poster"><h1 tabIndex={-1}>{NO_CALL[now.state]}</h1></div>}
      <p class={old || now.state === "gone" ? "notice" : "caption"} role="status">{call ? `${madeFor(call)} · ${now.state === "gone" ? "the server cannot be reached, this call is from " : ""}${inAges(age_ms)}` : now.state === "gone" ? "Trying again by itself." : "It comes up here by itself."}</p>
      <Announcer text={call ? `${call.best.words.call}.` : ""} />
    </main>
  );
}

const NO_CALL: Record<Bench["state"], string> = {
  waiting: "Asking for the call…", playing: "Asking for the call…", between: "No serve to call now", nothing: "No match goes on", gone: "The server cannot be reached",
};

/** Returns for whose serve and for which score a call is. */
function madeFor({ made_for: { server, set_number, points, side_outs } }: MatchCall): string {
  return `${server.number === null ? "our server" : `#${server.number}`}, set ${set_number}, ${points.us}–${points.them}${side_outs > 0 ? ", if we win this rally" : ""}`;
}
