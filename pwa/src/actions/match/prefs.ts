/** How the coach likes the match screen, and how our servers serve: kept on this device. */
import type { Kind } from "../../api/types";
import { keep, recall } from "../../store/kept";
import { createStore } from "../../store/store";

export interface Prefs {
  readonly leftHanded: boolean;
  readonly secondsBar: boolean;
  readonly stayAwake: boolean;
  readonly vibrate: boolean;
  /** The kind of serve that was chosen by hand for some of our numbers; the others serve as they were entered. */
  readonly kinds: Readonly<Record<string, Kind>>;
  readonly ceiling: number | "start" | null;
  /** Height of the net by match, where it is not the level's first. [m] */
  readonly nets: Readonly<Record<string, number>>;
}

export const prefs = createStore<Prefs>({ leftHanded: false, secondsBar: false, stayAwake: true, vibrate: true, kinds: {}, ceiling: "start", nets: {} });

let recalled: Promise<void> | undefined;

export const wakePrefs = (): Promise<void> =>
  (recalled ??= recall<Partial<Prefs>>("match-prefs").then((kept) => void (kept && prefs.set(kept))));

/** Says how a number of ours serves; null: as she was entered. */
export function preferKind(number: number, kind: Kind | null): void {
  const others = Object.entries(prefs.get().kinds).filter(([whose]) => whose !== String(number));
  prefer({ kinds: Object.fromEntries(kind ? [...others, [number, kind]] : others) });
}

export function prefer(change: Partial<Prefs>): void {
  prefs.set(change);
  void keep("match-prefs", prefs.get());
}
