/** The list of matches: what the service has, and what was begun here without it. */
import type { MatchItem, Opponent } from "../../api/match";
import { changeMatch, listMatches, listOpponents, removeMatch } from "../../api/matches";
import { Refused } from "../../api/problem";
import { keep, recall } from "../../store/kept";
import { begunMatches, forgetMatch } from "../../store/log";
import { createStore } from "../../store/store";
import { disk } from "./follow";

export interface Listed {
  readonly items: readonly MatchItem[];
  /** Begun on this device and not sent yet. */
  readonly here: readonly { readonly id: string; readonly name: string | null }[];
  readonly next: string | null;
  readonly opponents: readonly Opponent[];
  readonly state: "waiting" | "there" | "gone";
}

export const listed = createStore<Listed>({ items: [], here: [], next: null, opponents: [], state: "waiting" });

export async function loadMatches(): Promise<void> {
  const kept = await recall<Pick<Listed, "items" | "opponents">>("matches");
  if (kept && listed.get().items.length === 0) listed.set(kept);
  const begun = (await begunMatches(await disk)).filter((match) => !match.begun);
  listed.set({ here: begun });
  try {
    const [{ items, next }, opponents] = await Promise.all([listMatches(null), listOpponents()]);
    listed.set({ items, next, opponents, state: "there" });
    void keep("matches", { items, opponents });
  } catch {
    listed.set({ state: "gone" });
  }
}

export async function loadMore(): Promise<void> {
  const { next, items } = listed.get();
  if (next === null) return;
  try {
    const page = await listMatches(next);
    listed.set({ items: [...items, ...page.items], next: page.next });
  } catch {
    listed.set({ state: "gone" });
  }
}

export async function rename(id: string, name: string): Promise<void> {
  try {
    const changed = await changeMatch(id, { name: name.trim() || null });
    listed.set({ items: listed.get().items.map((item) => (item.id === id ? { ...item, ...changed } : item)) });
  } catch {
    listed.set({ state: "gone" });
  }
}

export async function remove(id: string): Promise<void> {
  try {
    await removeMatch(id);
  } catch (problem) {
    if (!(problem instanceof Refused)) return listed.set({ state: "gone" });
  }
  await forgetMatch(await disk, id);
  listed.set({ items: listed.get().items.filter((item) => item.id !== id), here: listed.get().here.filter((item) => item.id !== id) });
}
