/** What this device keeps of the opponents, so that a hall without network has them. */
import type { KeptFormation, OpponentProfile } from "../../api/opponents";
import type { Position } from "../../api/types";
import { forget, keep, recall } from "../../store/kept";
import { createStore } from "../../store/store";

interface Kept { readonly opponents: readonly OpponentProfile[] }

const NOTHING: Kept = { opponents: [] };
export const kept = createStore<Kept>(NOTHING);

let woken: Promise<void> | undefined;

/** Reads what was kept, once. */
export const wakeOpponents = (): Promise<void> =>
  (woken ??= recall<Kept>("opponents").then((found) => void (found && kept.set(found))));

async function put(change: Partial<Kept>): Promise<void> {
  kept.set(change);
  await keep("opponents", kept.get());
}

const alike = (one: string, other: string): boolean => one.trim().toLocaleLowerCase() === other.trim().toLocaleLowerCase();

/** Returns the prepared opponent of a name, null if this device has none. */
export const opponentOf = (name: string | null): OpponentProfile | null =>
  name === null ? null : (kept.get().opponents.find((one) => alike(one.name, name)) ?? null);

export const opponentById = (id: string): OpponentProfile | null => kept.get().opponents.find((one) => one.id === id) ?? null;

export const keepOpponent = (profile: OpponentProfile): Promise<void> =>
  put({ opponents: [profile, ...kept.get().opponents.filter(({ id }) => id !== profile.id)] });

export const dropOpponent = (id: string): Promise<void> => put({ opponents: kept.get().opponents.filter((one) => one.id !== id) });

/** Returns a profile with a formation as the service now keeps it. */
export function withFormation(profile: OpponentProfile, { setter_position, players, entered }: KeptFormation): OpponentProfile {
  const others = profile.formations.filter((one) => one.setter_position !== setter_position);
  const formations = entered ? [...others, { setter_position, players }] : others;
  return { ...profile, formations, formations_entered: formations.length };
}

/** Returns the formation that was entered for a position of their first setter. */
export const enteredAt = ({ formations }: OpponentProfile, setter_position: Position): OpponentProfile["formations"][number] | undefined =>
  formations.find((one) => one.setter_position === setter_position);

const watchers: (() => void)[] = [];

/** Has something forgotten together with the opponents. */
export const alsoForget = (empty: () => void): void => void watchers.push(empty);

let forgotten = 0;

/** Returns how often the opponents were forgotten: what was asked for before that is not kept any more. */
export const timesForgotten = (): number => forgotten;

/** Removes everything of opponents and their books from this device: signed out, or no longer let in. */
export async function forgetOpponents(): Promise<void> {
  forgotten += 1;
  for (const empty of watchers) empty();
  kept.set(NOTHING);
  await Promise.all(["opponents", "opponents-typed", "formations-dragged"].map(forget));
}
