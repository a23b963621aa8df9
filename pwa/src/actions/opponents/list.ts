/** The list of opponents, page by page; the profiles are brought to this device beside it. */
import { addOpponent, listOpponents, opponentNamed, showOpponent, type ListedOpponent } from "../../api/opponents";
import { createStore } from "../../store/store";
import { go, opponentPath } from "../route";
import { dropOpponent, keepOpponent, kept, opponentById, wakeOpponents } from "./kept";
import { standingAfter, unsaved, type Standing, type Unsaved } from "./standing";

const MOST_FETCHED = 12; // chosen: a season's next opponents, without asking for a whole club's

interface Listed { readonly items: readonly ListedOpponent[]; readonly next: string | null; readonly standing: Standing; readonly problem: Unsaved | null }

export const listed = createStore<Listed>({ items: [], next: null, standing: "waiting", problem: null });

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

const byName = (items: readonly ListedOpponent[]): readonly ListedOpponent[] => [...items].sort((a, b) => a.name.localeCompare(b.name));

async function forgetThoseGone(items: readonly ListedOpponent[]): Promise<void> {
  const there = new Set(items.map(({ id }) => id));
  for (const { id } of kept.get().opponents.filter((one) => !there.has(one.id))) await dropOpponent(id);
}

/** Brings the profiles that changed last to this device, for a hall without network. */
async function bring(items: readonly ListedOpponent[]): Promise<void> {
  const latest = [...items].sort((a, b) => (a.changed_at < b.changed_at ? 1 : -1)).slice(0, MOST_FETCHED);
  for (const { id, changed_at } of latest.filter((one) => opponentById(one.id)?.changed_at !== one.changed_at)) {
    const profile = await showOpponent(id).catch(() => null);
    if (!profile) return;
    await keepOpponent({ ...profile, changed_at });
  }
}

/** Brings the opponent of a match to this device, where it is entered, so that every phone on the match calls alike. */
export async function bringNamed(name: string): Promise<void> {
  await wakeOpponents();
  await opponentNamed(name).then((item) => bring(item ? [item] : []), () => undefined); // without the service what is kept stays
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
