/** The pages of the club's own teams, in a file of their own. */
import "../../style/match.css";
import "../../style/match-pages.css";
import "../../style/team.css";

export { TeamsView } from "./TeamsView";
export { TeamView } from "./TeamView";
