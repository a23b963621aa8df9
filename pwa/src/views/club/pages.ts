/** Signing in, joining, the club and the one page of a server view. */
import "../styles";
export { BenchView } from "./BenchView";
export { ClubView } from "./ClubView";
export { JoinView, SignInView } from "./EnterView";
