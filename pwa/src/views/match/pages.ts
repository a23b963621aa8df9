/** The pages of a match, in a file of their own. */
import "../../style/match.css";
import "../../style/match-pages.css";
import "../../style/club.css";

export { MatchesView } from "./MatchesView";
export { MatchView } from "./MatchView";
export { NewMatchView } from "./NewMatchView";
export { ReviewView } from "./ReviewView";
