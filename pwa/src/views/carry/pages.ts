/** Handing over and taking over, in a file of their own with the codes' maker and reader. */
import "../styles";

export { HandOverView } from "./HandOverView";
export { TakeOverView } from "./TakeOverView";
