import { render } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { askWhenBack } from "./actions/ask";
import { wake } from "./actions/memory";
import { followWhenBack } from "./actions/match/follow";
import { clearWhenLeft } from "./actions/match/clear";
import { session, wakeSession } from "./actions/session";
import { startShell } from "./actions/shell";
import { followHistory, matchOf, place, sharedOf, type Route } from "./actions/route";
import { state } from "./actions/state";
import { useStore } from "./store/store";
import "./style/tokens.css";
import "./style/base.css";
import "./style/court.css";
import "./style/parts.css";
import "./style/views.css";
import "./style/match.css";
import "./style/match-pages.css";
import "./style/carry.css";
import "./style/club.css";
import "./style/learn.css";
import { CallView } from "./views/CallView";
import { Carry, loadCarrySoon } from "./views/carry/Carry";
import { Club, loadClubSoon } from "./views/club/Club";
import { CompareView } from "./views/CompareView";
import { LearnView } from "./views/learn/LearnView";
import { MatchesView } from "./views/match/MatchesView";
import { MatchView } from "./views/match/MatchView";
import { NewMatchView } from "./views/match/NewMatchView";
import { ReviewView } from "./views/match/ReviewView";
import { ServerView } from "./views/ServerView";

const TITLES: Partial<Record<Route, string>> = { "/": "Cornerwise", "/server": "Server view · Cornerwise", "/compare": "Two spots · Cornerwise", "/learn": "Learn · Cornerwise", "/matches": "Matches · Cornerwise", "/matches/new": "New match · Cornerwise", "/take": "Take over a match · Cornerwise", "/sign-in": "Sign in · Cornerwise", "/join": "Join · Cornerwise", "/club": "Club · Cornerwise" };

function App() {
  const now = useStore(state);
  const { route } = useStore(place);
  const { awake, who } = useStore(session);
  const first = useRef(true);
  useEffect(() => {
    document.title = TITLES[route] ?? "Match · Cornerwise";
    if (!first.current) {
      scrollTo(0, 0);
      document.querySelector<HTMLElement>("h1")?.focus();
    }
    first.current = false;
  }, [route]);
  if (!now.awake || !awake) return null;
  if (route === "/sign-in" || route === "/join") return <Club page={route} />;
  if (who?.role === "server") return <Club page="bench" />;
  if (route === "/club") return <Club page={route} />;
  if (route === "/server") return <ServerView now={now} />;
  if (route === "/compare") return <CompareView now={now} />;
  if (route === "/learn") return <LearnView now={now} />;
  if (route === "/matches") return <MatchesView />;
  if (route === "/matches/new") return <NewMatchView />;
  const shared = sharedOf(route);
  if (shared !== null || route === "/take") return <Carry id={shared} />;
  const match = matchOf(route);
  if (match) return match.review ? <ReviewView id={match.id} /> : <MatchView id={match.id} />;
  return <CallView now={now} />;
}

followHistory();
askWhenBack();
followWhenBack();
clearWhenLeft();
void wakeSession();
void wake();
if (import.meta.env.PROD) void startShell();
loadCarrySoon();
loadClubSoon();
render(<App />, document.getElementById("app") as HTMLElement);
