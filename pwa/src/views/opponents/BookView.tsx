import { useEffect } from "preact/hooks";
import { book, choose, openBook, takeTeam, TURNS, type BookShown } from "../../actions/opponents/book";
import { opponentPath } from "../../actions/route";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { BookTable } from "./BookTable";
import { BookTurn } from "./BookTurn";
import { Card } from "./Card";
import { OurLineup } from "./OurLineup";
import { Problem, StandingNote } from "./Said";

/** Every call of a match against one opponent: at a glance where there is room, one rotation at a time on a phone, and on paper. */
export function BookView({ id }: { id: string }) {
  const now = useStore(book);
  useEffect(() => void openBook(id), [id]);
  const { opponent, team, standing } = now;
  const there = TURNS.filter((turn) => now.turns[turn]).length;
  return (
    <main class="book-view">
      <header class="top"><Link to={opponentPath(id)}>{opponent?.name ?? "Opponent"}</Link></header>
      <h1 tabIndex={-1}>Call book</h1>
      {opponent && <p class="situation">against <b>{opponent.name}</b>{team && <>, for <b>{team.name}</b></>}</p>}
      {standing === "no_team" && <p class="notice"><b>No team is entered yet.</b> The book holds a call for each of your servers: <Link to="/team">enter your team first</Link>.</p>}
      {standing === "gone" && there < 6 && <div class="notice" role="status"><p><b>Nothing answers at the moment.</b> This device does not have everything it needs for this book.</p><button type="button" onClick={() => void openBook(id)}>Try again</button></div>}
      {(standing === "out" || standing === "missing") && <StandingNote standing={standing} />}
      {standing === "refused" && now.refused && <Problem problem={{ text: "The book cannot be worked out like this.", faults: now.refused.faults }} />}
      {opponent && team && (
        <>
          <Choices now={now} />
          <p class="caption" role="status">{there < 6 && standing === "waiting" ? `Working out rotation ${there + 1} of 6…` : order(now)}</p>
          <BookTurn now={now} />
          <BookTable now={now} />
          <p class="print-row"><button type="button" class="strong" disabled={there < 6} onClick={() => window.print()}>Print the card</button><span class="caption">One page, black and white, for a bench without devices.</span></p>
          <Card now={now} />
        </>
      )}
    </main>
  );
}

function order({ turns, serving_first }: BookShown): string {
  const made = Object.values(turns)[0];
  if (!made) return "";
  if (made.order_known) return "In the order in which we serve. Who meets them there is bold.";
  return serving_first === null ? "In the order in which they rotate. Say who serves first, and the book shows who of us meets them where." : "In the order in which they rotate: where their setter starts is not known.";
}

/** Who serves first, with which six, and for which team. */
function Choices({ now: { serving_first, team, teams, lineup } }: { now: BookShown }) {
  return (
    <div class="choices">
      <div class="first" role="group" aria-label="Who serves first">
        <button type="button" aria-pressed={serving_first === "us"} onClick={() => choose({ serving_first: serving_first === "us" ? null : "us" })}>We serve first</button>
        <button type="button" aria-pressed={serving_first === "them"} onClick={() => choose({ serving_first: serving_first === "them" ? null : "them" })}>They serve first</button>
      </div>
      {teams.length > 1 && (
        <label class="field">Our team
          <select value={team?.id ?? ""} onChange={(event) => { const chosen = teams.find((one) => one.id === event.currentTarget.value); if (chosen) void takeTeam(chosen); }}>{teams.map((one) => <option key={one.id} value={one.id}>{one.name}</option>)}</select>
        </label>
      )}
      <OurLineup lineup={lineup ?? team?.lineup ?? null} usual={lineup === null} />
    </div>
  );
}
