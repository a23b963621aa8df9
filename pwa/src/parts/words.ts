/** Names and places in words. The engine sends the sentences; these are the labels around them. */
import type { Kind, Level, Point, SpotName, System } from "../api/types";
import { length, type Units } from "./units";

/** Returns a name of the API as words: "standing_float" -> "standing float". */
export const spoken = (name: Kind | Level | SpotName | string): string => name.replaceAll("_", " ");

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Returns where a place lies, as one sees it from the server's side. */
export function placeInWords({ x_m, y_m }: Point, units: Units, service_line_m: number): string {
  const side = Math.abs(x_m) < 0.05 ? "in the middle" : `${length(Math.abs(x_m), units.length)} to our ${x_m < 0 ? "left" : "right"}`;
  const off = y_m >= 0 ? `${length(y_m, units.length)} off the net` : `${length(-y_m - service_line_m, units.length)} behind the service line`;
  return `${off}, ${side}`;
}

export const SYSTEMS: Readonly<Record<System, string>> = {
  one_setter: "One setter", two_setters_back_sets: "Two setters, back row sets", two_setters_front_sets: "Two setters, front row sets",
};
