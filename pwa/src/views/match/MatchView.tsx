import { useEffect } from "preact/hooks";
import { stayAwake } from "../../actions/match/device";
import { closeMatch, openMatch } from "../../actions/match/follow";
import { live, type Contact } from "../../actions/match/live";
import { prefs } from "../../actions/match/prefs";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { EndView } from "./EndView";
import { LiveView } from "./LiveView";
import { SetView } from "./SetView";

/** One match: in play, between two sets, or over. */
export function MatchView({ id }: { id: string }) {
  const now = useStore(live);
  const liked = useStore(prefs);
  useEffect(() => {
    void openMatch(id);
    return closeMatch;
  }, [id]);
  useEffect(() => {
    void stayAwake(liked.stayAwake);
    return () => void stayAwake(false);
  }, [liked.stayAwake]);
  const { answer } = now;
  if (!answer || now.id !== id) return <Waiting shut={now.rows.length === 0 ? (SHUT[now.contact.trouble] ?? "") : ""} missing={now.missing} gone={now.gone} refused={now.refused?.message ?? ""} unsaved={now.unsaved} away={now.rows.length === 0 && (now.contact.trouble === "away" || now.contact.trouble === "later")} />;
  const { status } = answer.state;
  if (status === "set_over" || status === "before") return <SetView now={now} answer={answer} />;
  if (status !== "in_play") return <EndView now={now} answer={answer} />;
  return <LiveView now={now} answer={answer} liked={liked} />;
}

const SHUT: Partial<Record<Contact["trouble"], string>> = { signed_out: "Sign in to open this match", revoked: "This device was revoked", not_allowed: "This match is not for this device" };

function Waiting({ shut, missing, gone, refused, unsaved, away }: { shut: string; missing: boolean; gone: boolean; refused: string; unsaved: boolean; away: boolean }) {
  return (
    <main class="match-waiting">
      <header class="top"><Link to="/matches">Matches</Link></header>
      <h1 tabIndex={-1}>{missing ? "There is no such match any more" : unsaved ? "The match cannot be opened here" : shut ? shut : gone || away ? "The server cannot be reached" : refused ? "The match cannot be shown" : "Opening…"}</h1>
      {shut && <p>It is not on this device, and the server shows it only to the club it belongs to. <Link to="/sign-in">Sign in</Link> or <Link to="/join">join by a code</Link>.</p>}
      {away && <p>This match is not on this device yet. It is fetched as soon as the server answers.</p>}
      {unsaved && <p class="notice" role="alert">This device has no room, or does not let the app keep anything: a match is kept on the device that logs it. Make room, or open Cornerwise in an ordinary window.</p>}
      {gone && !away && <p>Everything that was logged here is kept. Trying again by itself.</p>}
      {refused && !missing && <p class="notice" role="alert">{refused}</p>}
    </main>
  );
}
