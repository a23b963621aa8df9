/** The pages of opponents and their call book, in a file of their own. */
import "../../style/match.css";
import "../../style/match-pages.css";
import "../../style/opponents.css";
import "../../style/print.css";

export { BookView } from "./BookView";
export { OpponentsView } from "./OpponentsView";
export { OpponentView } from "./OpponentView";
