/** The list of opponents, page by page; the profiles are brought to this device beside it. */
import { addOpponent, listOpponents, opponentsNamed, showOpponent, type ListedOpponent, type OpponentProfile } from "../../api/opponents";
import { createStore } from "../../store/store";
import { go, opponentPath } from "../route";
import { alsoForget, dropOpponent, keepOpponent, kept, opponentById, timesForgotten, wakeOpponents } from "./kept";
import { standingAfter, unsaved, type Standing, type Unsaved } from "./standing";

const MOST_FETCHED = 12; // chosen: a season's next opponents, without asking for a whole club's

interface Listed { readonly items: readonly ListedOpponent[]; readonly next: string | null; readonly standing: Standing; readonly problem: Unsaved | null }

const START: Listed = { items: [], next: null, standing: "waiting", problem: null };
export const listed = createStore<Listed>(START);
alsoForget(() => listed.set(START));

/** Shows what is kept here, then what the service has. */
export async function loadOpponents(): Promise<void> {
  await wakeOpponents();
  if (listed.get().items.length === 0) listed.set({ items: byName(kept.get().opponents) });
  try {
    const { items, next } = await listOpponents(null);
    listed.set({ items, next, standing: "there", problem: null });
    if (next === null) await forgetThoseGone(items);
    await bring(items);
  } catch (problem) {
    const standing = standingAfter(problem);
    listed.set({ standing, ...(standing === "out" && { items: [], next: null }) });
  }
}

export async function loadMoreOpponents(): Promise<void> {
  const { next, items } = listed.get();
  try {
    const page = await listOpponents(next);
    listed.set({ items: [...items, ...page.items], next: page.next });
  } catch (problem) {
    listed.set({ standing: standingAfter(problem) });
  }
}

/** Lists all opponents, page after page, to be searched by name. */
export async function loadAllOpponents(): Promise<void> {
  await loadOpponents();
  for (let before: string | null = null; listed.get().next !== before && listed.get().next !== null; ) {
    before = listed.get().next;
    await loadMoreOpponents();
  }
}

const byName = (items: readonly ListedOpponent[]): readonly ListedOpponent[] => [...items].sort((a, b) => a.name.localeCompare(b.name));

async function forgetThoseGone(items: readonly ListedOpponent[]): Promise<void> {
  const there = new Set(items.map(({ id }) => id));
  for (const { id } of kept.get().opponents.filter((one) => !there.has(one.id))) await dropOpponent(id);
}

/** Brings the profiles that changed last to this device, for a hall without network. */
async function bring(items: readonly ListedOpponent[]): Promise<void> {
  const latest = [...items].sort((a, b) => (a.changed_at < b.changed_at ? 1 : -1)).slice(0, MOST_FETCHED);
  for (const one of latest) if (!(await bringOne(one))) return;
}

/** Returns an opponent as the service has it now, kept on this device; as it is kept here where nobody answers, null if it is not. */
export async function bringOne({ id, changed_at }: Pick<ListedOpponent, "id" | "changed_at">): Promise<OpponentProfile | null> {
  const here = opponentById(id);
  if (here?.changed_at === changed_at) return here;
  const before = timesForgotten();
  const profile = await showOpponent(id).catch(() => null);
  if (before !== timesForgotten()) return null;
  if (!profile) return here;
  await keepOpponent({ ...profile, changed_at });
  return profile;
}

/** Brings the opponent of a match to this device, by its name; returns whether the service was heard. */
export async function bringNamed(name: string): Promise<boolean> {
  await wakeOpponents();
  try {
    const { items } = await opponentsNamed(name);
    for (const one of items) await bringOne(one);
    return true;
  } catch {
    return false;
  }
}

/** Adds an opponent and opens it. */
export async function newOpponent(name: string): Promise<void> {
  try {
    const profile = await addOpponent({ name: name.trim() });
    await keepOpponent(profile);
    listed.set({ problem: null });
    go(opponentPath(profile.id));
  } catch (problem) {
    listed.set({ problem: unsaved(problem, "Not added") });
  }
}
