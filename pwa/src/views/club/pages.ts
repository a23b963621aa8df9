export { BenchView } from "./BenchView";
export { ClubView } from "./ClubView";
export { JoinView, SignInView } from "./EnterView";
