/** Signing in, joining, the club and the one page of a server view, with their styles. */
import "../../style/match.css";
import "../../style/match-pages.css";
import "../../style/carry.css";
import "../../style/club.css";
export { BenchView } from "./BenchView";
export { ClubView } from "./ClubView";
export { JoinView, SignInView } from "./EnterView";
