export { HandOverView } from "./HandOverView";
export { TakeOverView } from "./TakeOverView";
