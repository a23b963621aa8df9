import { undo } from "../../actions/match/log";
import type { Live } from "../../actions/match/live";
import { lastTap } from "../../actions/match/standing";
import { WHO } from "../../actions/match/words";
import { reviewPath } from "../../actions/route";
import type { ReplayAnswer } from "../../api/match";
import { Link } from "../Link";
import { UpdateOffer } from "../OnThisDevice";
import { Summary } from "./Summary";
import { Sync } from "./Sync";

const OVER = { match_over: "The match is over", abandoned: "Abandoned", forfeited: "Forfeited" } as const;

/** The match is over: how it ended, what our serves came to, and the way to the review. */
export function EndView({ now, answer }: { now: Live; answer: ReplayAnswer }) {
  const { state } = answer;
  const scores = [...state.set_scores, ...(state.set_winner && !state.set_scores.some((s) => s.set_number === state.set_number) ? [{ set_number: state.set_number, ...state.points, winner: state.set_winner }] : [])];
  return (
    <main class="set-view end-view">
      <header class="bar"><p class="points"><span class="ours">{state.sets.us}</span><span class="dash">–</span><span class="theirs">{state.sets.them}</span></p><div class="aside"><Link to="/matches">Matches</Link><Sync now={now} /></div></header>
      <h1 tabIndex={-1}>{state.winner ? `${WHO[state.winner]} won the match` : OVER[state.status as keyof typeof OVER]}</h1>
      <ol class="set-scores">{scores.map((s) => <li key={s.set_number}><span class="caption">set {s.set_number}</span> <b>{s.us}–{s.them}</b></li>)}</ol>
      {now.review && <Summary review={now.review} />}
      <Link to={reviewPath(now.id ?? "")} class="wide-link">Review</Link>
      <UpdateOffer />
      <div class="first-serve dock"><button type="button" class="undo" onClick={() => void undo()}>Undo<span class="caption">{lastTap(now.rows)?.said ?? ""}</span></button></div>
    </main>
  );
}
