import { useEffect, useState } from "preact/hooks";
import { deleteOpponent, isTyped, openOpponent, saveOpponent, sheetShown, shown, untype } from "../../actions/opponents/profile";
import { teach } from "../../actions/learn";
import { bookPath, go } from "../../actions/route";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { Formations } from "./Formations";
import { Known } from "./Known";
import { Problem, StandingNote } from "./Said";

/** One opponent: how they receive, rotation by rotation, and what is known of them. */
export function OpponentView({ id }: { id: string }) {
  const now = useStore(shown);
  useEffect(() => void openOpponent(id), [id]);
  const { profile, standing } = now;
  const sheet = sheetShown(now);
  return (
    <main class="opponent-view">
      <header class="top"><Link to="/opponents">Opponents</Link></header>
      <h1 tabIndex={-1}>{profile?.name ?? (standing === "waiting" ? "One moment…" : "Opponent")}</h1>
      <StandingNote standing={standing} />
      {profile && sheet && (
        <>
          <nav class="ways-on" aria-label="With this opponent">
            <Link to={bookPath(id)} class="wide-link strong">Call book</Link>
            <button type="button" onClick={() => { teach(profile); go("/learn"); }}>Teach this opponent</button>
          </nav>
          <Formations profile={profile} />
          <Known sheet={sheet} />
          {isTyped(now) && (
            <div class="save dock" role="group" aria-label="What was typed">
              <Problem problem={now.problem} />
              <button type="button" class="strong" disabled={now.saving} onClick={() => void saveOpponent()}>Save what is known</button>
              <button type="button" onClick={untype}>As it was</button>
            </div>
          )}
          <Delete />
        </>
      )}
    </main>
  );
}

function Delete() {
  const [sure, setSure] = useState(false);
  if (!sure) return <p class="delete"><button type="button" class="quiet" onClick={() => setSure(true)}>Delete this opponent…</button></p>;
  return (
    <div class="notice delete" role="alert">
      <p><b>Delete this opponent for everyone in the club?</b> Formations and ratings go with it; matches against them stay.</p>
      <button type="button" onClick={() => void deleteOpponent()}>Delete for good</button>
      <button type="button" onClick={() => setSure(false)}>Keep it</button>
    </div>
  );
}
