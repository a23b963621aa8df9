/** The pages of a match, in a file of their own. */
import "../styles";

export { MatchesView } from "./MatchesView";
export { MatchView } from "./MatchView";
export { NewMatchView } from "./NewMatchView";
export { ReviewView } from "./ReviewView";
