/** The pages of the club's own teams, in a file of their own. */
import "../styles";

export { TeamsView } from "./TeamsView";
export { TeamView } from "./TeamView";
