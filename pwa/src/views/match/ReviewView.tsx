import { useEffect, useState } from "preact/hooks";
import { saveLog, saveServes } from "../../actions/match/file";
import { nameOf, useReview } from "../../actions/match/review";
import { called, refreshRoster, roster } from "../../actions/team/roster";
import { matchPath } from "../../actions/route";
import type { Row } from "../../api/match";
import { RunChart } from "../../parts/match/RunChart";
import { ReviewTable, type Group } from "../../parts/match/ReviewTable";
import { capital, spoken } from "../../parts/words";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { standing, titleOf, type Titled } from "./MatchesView";
import { Summary } from "./Summary";

const SERVED: Record<string, string> = { as_called: "as called", elsewhere: "served elsewhere", not_known: "not known where", no_call: "without a call" };
const setter = (p: number | null): string => (p === null ? "not known" : `setter in ${p}`);
const group = (name: string, row: Row): Group => ({ name, row });

/** After the match, or a set: what our serves came to, against whom, and how each set ran. */
export function ReviewView({ id }: { id: string }) {
  const [set, setSet] = useState<number | null>(null);
  const [match, setMatch] = useState<Titled | null>(null);
  const [sets, setSets] = useState<readonly number[]>([]);
  const [made, setMade] = useState(true);
  const known = useStore(roster);
  useEffect(() => void refreshRoster(), []);
  useEffect(() => void nameOf(id).then(setMatch, () => undefined), [id]);
  const { review, failed } = useReview(id, set, "");
  useEffect(() => {
    if (review && review.set_number === null) setSets(review.sets.map((s) => s.set_number));
  }, [review]);
  return (
    <main class="review-view">
      <header class="top"><Link to="/matches">Matches</Link><Link to={matchPath(id)}>The match</Link></header>
      <h1 tabIndex={-1}>{match ? titleOf(match) : "Review"}</h1>
      {match && <p class="situation">{standing(match)}</p>}
      {sets.length > 1 && (
        <div class="chips" role="group" aria-label="Which part">
          {[null, ...sets].map((n) => <button key={n ?? 0} type="button" class="chip word" aria-pressed={set === n} onClick={() => setSet(n)}>{n === null ? "the match" : `set ${n}`}</button>)}
        </div>
      )}
      {!review ? <p class={failed ? "notice" : "caption"} role="status">{failed ? "The server cannot be reached, and this match is not on this device." : "Counting…"}</p> : (
        <>
          <Summary review={review} />
          <section class="courses"><h2>How it ran</h2>{review.sets.map((course) => <RunChart key={course.set_number} course={course} />)}</section>
          <ReviewTable title="By server" groups={review.by_server.map((r) => group(r.number === null ? "not known" : called(match?.us, r.number, known), r))} turns />
          <ReviewTable title="By our rotation" groups={review.by_our_rotation.map((r) => group(setter(r.setter_position), r))} turns />
          <ReviewTable title="By their rotation" groups={review.by_their_rotation.map((r) => group(setter(r.setter_position), r))} turns />
          <ReviewTable title="By spot and target" groups={review.by_spot_and_target.map((r) => group(`${r.spot === null ? "spot not known" : capital(spoken(r.spot))} → ${r.zone === null ? "not known" : `zone ${r.zone} ${r.depth}`}`, r))} />
          <ReviewTable title="Called and served" groups={review.called.filter((r) => r.serves.count > 0).map((r) => group(SERVED[r.served] ?? r.served, r))} />
          <NotCounted counts={review.not_counted} />
          <p class="downloads"><button type="button" class="wide-link" onClick={() => void saveServes(id).then(setMade)}>Serves as CSV</button> <button type="button" class="wide-link" onClick={() => void saveLog(id)}>Log as JSON</button></p>
          {!made && <p class="notice" role="alert">The table could not be made: this device does not count by itself yet, and the server cannot be reached.</p>}
        </>
      )}
    </main>
  );
}

function NotCounted({ counts }: { counts: Readonly<Record<string, number>> }) {
  const some = Object.entries(counts).filter(([, n]) => n > 0);
  return some.length > 0 ? <p class="caption">Not counted: {some.map(([name, n]) => `${n} ${spoken(name)}`).join(", ")}.</p> : null;
}
