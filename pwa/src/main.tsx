import { render } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { askWhenBack } from "./actions/ask";
import { bringWhenIn } from "./actions/bring";
import { wake } from "./actions/memory";
import { followWhenBack } from "./actions/match/follow";
import { clearWhenLeft } from "./actions/match/clear";
import { session, wakeSession } from "./actions/session";
import { startShell } from "./actions/shell";
import { followHistory, matchOf, opponentIn, place, sharedOf, teamOf, type Route } from "./actions/route";
import { state } from "./actions/state";
import { useStore } from "./store/store";
import "./style/tokens.css";
import "./style/base.css";
import "./style/court.css";
import "./style/parts.css";
import "./style/views.css";
import "./style/server.css";
import { CallView } from "./views/CallView";
import { CompareView } from "./views/CompareView";
import { fetchPagesSoon, later } from "./views/Later";
import { ServerView } from "./views/ServerView";

const matchPages = () => import("./views/match/pages");
const MatchesView = later(() => matchPages().then((pages) => pages.MatchesView));
const NewMatchView = later(() => matchPages().then((pages) => pages.NewMatchView));
const MatchView = later(() => matchPages().then((pages) => pages.MatchView));
const ReviewView = later(() => matchPages().then((pages) => pages.ReviewView));
const carryPages = () => import("./views/carry/pages");
const HandOverView = later(() => carryPages().then((pages) => pages.HandOverView));
const TakeOverView = later(() => carryPages().then((pages) => pages.TakeOverView));
const clubPages = () => import("./views/club/pages");
const SignInView = later(() => clubPages().then((pages) => pages.SignInView));
const JoinView = later(() => clubPages().then((pages) => pages.JoinView));
const ClubView = later(() => clubPages().then((pages) => pages.ClubView));
const BenchView = later(() => clubPages().then((pages) => pages.BenchView));
const LearnView = later(() => import("./views/learn/LearnView").then((page) => page.LearnView));
const opponentPages = () => import("./views/opponents/pages");
const BookView = later(() => opponentPages().then((pages) => pages.BookView));
const OpponentView = later(() => opponentPages().then((pages) => pages.OpponentView));
const OpponentsView = later(() => opponentPages().then((pages) => pages.OpponentsView));
const teamPages = () => import("./views/team/pages");
const TeamsView = later(() => teamPages().then((pages) => pages.TeamsView));
const TeamView = later(() => teamPages().then((pages) => pages.TeamView));

const TITLES: Partial<Record<Route, string>> = {
  "/": "Cornerwise", "/server": "Server view · Cornerwise", "/compare": "Two spots · Cornerwise", "/learn": "Learn · Cornerwise",
  "/matches": "Matches · Cornerwise", "/matches/new": "New match · Cornerwise", "/take": "Take over a match · Cornerwise",
  "/team": "Teams · Cornerwise", "/opponents": "Opponents · Cornerwise", "/sign-in": "Sign in · Cornerwise", "/join": "Join · Cornerwise", "/club": "Club · Cornerwise",
};

function App() {
  const now = useStore(state);
  const { route } = useStore(place);
  const { awake, who } = useStore(session);
  const first = useRef(true);
  useEffect(() => {
    document.title = TITLES[route] ?? (teamOf(route) ? "Team · Cornerwise" : opponentIn(route) ? "Opponent · Cornerwise" : "Match · Cornerwise");
    if (!first.current) {
      scrollTo(0, 0);
      document.querySelector<HTMLElement>("h1")?.focus();
    }
    first.current = false;
  }, [route]);
  if (!now.awake || !awake) return null;
  if (route === "/sign-in") return <SignInView />;
  if (route === "/join") return <JoinView />;
  if (who?.role === "server") return <BenchView />;
  if (route === "/club") return <ClubView />;
  if (route === "/server") return <ServerView now={now} />;
  if (route === "/compare") return <CompareView now={now} />;
  if (route === "/learn") return <LearnView now={now} />;
  if (route === "/matches") return <MatchesView />;
  if (route === "/matches/new") return <NewMatchView />;
  if (route === "/opponents") return <OpponentsView />;
  const opponent = opponentIn(route);
  if (opponent) return opponent.book ? <BookView id={opponent.id} /> : <OpponentView id={opponent.id} />;
  if (route === "/team") return <TeamsView />;
  const team = teamOf(route);
  if (team !== null) return <TeamView key={team} id={team} />;
  const shared = sharedOf(route);
  if (shared !== null) return <HandOverView id={shared} />;
  if (route === "/take") return <TakeOverView />;
  const match = matchOf(route);
  if (match) return match.review ? <ReviewView id={match.id} /> : <MatchView id={match.id} />;
  return <CallView now={now} />;
}

followHistory();
askWhenBack();
followWhenBack();
clearWhenLeft();
bringWhenIn();
void wakeSession();
void wake();
if (import.meta.env.PROD) void startShell();
fetchPagesSoon();
render(<App />, document.getElementById("app") as HTMLElement);
