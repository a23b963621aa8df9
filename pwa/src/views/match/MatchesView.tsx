import { useEffect, useState } from "preact/hooks";
import { followMatches, listed, loadMore, remove, rename, type Entry } from "../../actions/match/list";
import { matchPath, reviewPath, sharePath } from "../../actions/route";
import type { MatchItem } from "../../api/match";
import { WHO } from "../../actions/match/words";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { ReadySign, RoomNote, UpdateOffer } from "../OnThisDevice";
import { StandingHere, WhoSign } from "../WhoSign";

const day = (iso: string): string => new Date(iso).toLocaleDateString(undefined, { day: "numeric", month: "short", year: "numeric" });

export const titleOf = ({ name, us, them }: Pick<MatchItem, "name" | "us" | "them">): string => name ?? (us || them ? `${us ?? "We"} – ${them ?? "they"}` : "A match without a name");

export type Titled = Pick<MatchItem, "name" | "us" | "them" | "status" | "winner" | "sets" | "points" | "set_number">;

/** Returns where a match stands, in one line. */
export function standing({ status, winner, sets, points, set_number }: Titled): string {
  const score = `sets ${sets.us}–${sets.them}`;
  if (status === "before") return "not started";
  if (status === "in_play") return `${score}, set ${set_number}: ${points.us}–${points.them}`;
  if (status === "set_over") return `${score}, set ${set_number} is over`;
  return winner ? `${WHO[winner].toLowerCase()} won, ${score}` : `over, ${score}`;
}

/** Every match: open, go on, rename, delete. */
export function MatchesView() {
  const { items, next, state, problem } = useStore(listed);
  useEffect(followMatches, []);
  return (
    <main class="matches-view">
      <header class="top"><Link to="/">Cornerwise</Link><WhoSign /></header>
      <h1 tabIndex={-1}>Matches</h1>
      <RoomNote />
      <UpdateOffer />
      <ReadySign />
      <Link to="/matches/new" class="wide-link strong">New match</Link>
      <p><Link to="/take">Take over from another phone</Link></p>
      <div class="said">
        {problem && <p class="notice" role="alert">{problem}</p>}
        <StandingHere state={state} none={items.length === 0} />
        {state === "gone" && <p class="notice" role="status"><b>The server cannot be reached.</b> What is on this device can be opened and goes on; the others are as they were last time. Trying again by itself.</p>}
      </div>
      <ul class="matches">
        {items.map((item) => <Item key={item.id} item={item} />)}
      </ul>
      {state === "waiting" && items.length === 0 && <p class="caption" role="status">Looking…</p>}
      {next && state === "there" && <button type="button" onClick={() => void loadMore()}>Older matches</button>}
    </main>
  );
}

const WHERE: Record<Entry["where"], string> = { sent: "", waiting: "not all sent yet", here: "on this device, not sent yet", stays: "kept on this device only", missing: "on this device only: the server has it no more" };

function Item({ item }: { item: Entry }) {
  const over = item.status === "match_over" || item.status === "abandoned" || item.status === "forfeited";
  return (
    <li>
      <Link to={over ? reviewPath(item.id) : matchPath(item.id)} class="match">
        <span class="value">{titleOf(item)}</span>
        <span class="stand">{standing(item)}</span>
        <span class="caption">{[item.name && (item.us || item.them) ? `${item.us ?? "we"} – ${item.them ?? "they"}` : "", item.demo ? "invented, to try everything" : day(item.created_at), WHERE[item.where]].filter(Boolean).join(" · ")}</span>
      </Link>
      <Change item={item} />
    </li>
  );
}

function Change({ item }: { item: Entry }) {
  const [name, setName] = useState(item.name ?? "");
  const [sure, setSure] = useState(false);
  return (
    <details class="change">
      <summary>Review, rename or delete<span class="unseen">: {titleOf(item)}</span></summary>
      <Link to={reviewPath(item.id)}>Review</Link> <Link to={sharePath(item.id)}>Hand over</Link>
      <form onSubmit={(event) => { event.preventDefault(); void rename(item.id, name); }}>
        <label>Name <input type="text" maxLength={100} value={name} onInput={(event) => setName(event.currentTarget.value)} /></label>
        <button type="submit">Rename</button>
      </form>
      {sure ? (
        <div class="notice" role="alert">
          <p><b>Delete this match?</b> {item.deleting}</p>
          <button type="button" onClick={() => void remove(item)}>Delete for good</button>
          <button type="button" onClick={() => setSure(false)}>Keep it</button>
        </div>
      ) : <button type="button" class="quiet" onClick={() => setSure(true)}>Delete…</button>}
    </details>
  );
}
