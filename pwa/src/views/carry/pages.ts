/** Handing over and taking over, in a file of their own with the codes' maker and reader. */
import "../../style/match.css";
import "../../style/match-pages.css";
import "../../style/carry.css";
import "../../style/club.css";

export { HandOverView } from "./HandOverView";
export { TakeOverView } from "./TakeOverView";
