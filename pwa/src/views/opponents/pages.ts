/** The pages of opponents and their call book, in a file of their own. */
import "../styles";

export { BookView } from "./BookView";
export { OpponentsView } from "./OpponentsView";
export { OpponentView } from "./OpponentView";
