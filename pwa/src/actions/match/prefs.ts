/** How the coach likes the match screen, and how our servers serve: kept on this device. */
import type { Kind } from "../../api/types";
import { keep, recall } from "../../store/kept";
import { createStore } from "../../store/store";

export interface Prefs {
  readonly leftHanded: boolean;
  readonly secondsBar: boolean;
  readonly stayAwake: boolean;
  readonly vibrate: boolean;
  /** The kind of serve of each of our numbers; the usual one of the level stands in for the others. */
  readonly kinds: Readonly<Record<string, Kind>>;
  readonly ceiling: number | "start" | null;
  /** Height of the net by match, where it is not the level's first. [m] */
  readonly nets: Readonly<Record<string, number>>;
}

export const prefs = createStore<Prefs>({ leftHanded: false, secondsBar: false, stayAwake: true, vibrate: true, kinds: {}, ceiling: "start", nets: {} });

let recalled: Promise<void> | undefined;

export const wakePrefs = (): Promise<void> =>
  (recalled ??= recall<Partial<Prefs>>("match-prefs").then((kept) => void (kept && prefs.set(kept))));

export function prefer(change: Partial<Prefs>): void {
  prefs.set(change);
  void keep("match-prefs", prefs.get());
}
