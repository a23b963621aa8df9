import { useEffect, useState } from "preact/hooks";
import { undo } from "../../actions/match/log";
import { useReview } from "../../actions/match/review";
import { markOf, type Live } from "../../actions/match/live";
import { startSet } from "../../actions/match/setup";
import { draftOf, inOneLine, type Draft } from "../../actions/match/sheet";
import { lastTap } from "../../actions/match/standing";
import { WHO } from "../../actions/match/words";
import { reviewPath } from "../../actions/route";
import type { ReplayAnswer } from "../../api/match";
import { LineupPad } from "../../parts/match/LineupPad";
import { Link } from "../Link";
import { UpdateOffer } from "../OnThisDevice";
import { Summary } from "./Summary";
import { Following, Sync } from "./Sync";

/** Between two sets: what the set came to, and the line-ups carried over. */
export function SetView({ now, answer }: { now: Live; answer: ReplayAnswer }) {
  const { state, sheets } = answer;
  const [us, setUs] = useState<Draft>(draftOf(sheets.us));
  const [them, setThem] = useState<Draft>(draftOf(sheets.them));
  useEffect(() => {
    setUs(draftOf(sheets.us));
    setThem(draftOf(sheets.them));
  }, [state.set_number]);
  const { review } = useReview(now.id, state.set_number || null, markOf(now.rows));
  const next = state.set_number + 1;
  const first = answer.first_serving_next;
  return (
    <main class="set-view">
      <header class="bar"><p class="points"><span class="ours">{state.points.us}</span><span class="dash">–</span><span class="theirs">{state.points.them}</span></p><div class="aside"><Link to="/matches">Matches</Link><Sync now={now} /></div></header>
      <h1 tabIndex={-1}>{state.set_winner ? `${WHO[state.set_winner]} won set ${state.set_number}` : state.set_number === 0 ? "Before the first set" : `Set ${state.set_number} is over`}</h1>
      <p class="situation">sets <b>{state.sets.us}–{state.sets.them}</b></p>
      {review && <Summary review={review} />}
      <section aria-labelledby="next-title">
        <h2 id="next-title">Set {next}: line-ups carried over</h2>
        <details><summary>We <span class="caption">{inOneLine(us) || "not entered"}</span></summary><LineupPad side="us" draft={us} onChange={setUs} /></details>
        <details><summary>They <span class="caption">{inOneLine(them) || "not known"}</span></summary><LineupPad side="them" draft={them} onChange={setThem} /></details>
      </section>
      <p><Link to={reviewPath(now.id ?? "")}>Review so far</Link></p>
      <UpdateOffer />
      {now.following ? <div class="first-serve dock"><Following /></div> : <div class="first-serve dock" role="group" aria-label={`Who serves first in set ${next}`}>
        {now.unsaved && <p class="notice" role="alert"><b>The last tap was not saved.</b> This device has no room, or does not let the app keep anything. Make room and tap again.</p>}
        {state.set_number > 0 && <p class="devices caption">{first ? `${WHO[first]} serve first: not in set ${state.set_number} (FIVB 12.1.2).` : "Who serves first is for the toss."}</p>}
        <button type="button" class={first === "them" ? "" : "strong"} onClick={() => void startSet(next, "us", us, them)}>We serve first</button>
        <button type="button" class={first === "us" ? "" : "strong"} onClick={() => void startSet(next, "them", us, them)}>They serve first</button>
        <button type="button" class="undo" onClick={() => void undo()}>Undo<span class="caption">{lastTap(now.rows, now.device)?.said ?? ""}</span></button>
      </div>}
    </main>
  );
}
