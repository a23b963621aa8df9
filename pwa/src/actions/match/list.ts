/** The list of matches: what the service has, and what is on this device, whether or not the service can be reached. */
import type { MatchEvent, MatchItem, Opponent } from "../../api/match";
import { changeMatch, listMatches, listOpponents, removeMatch } from "../../api/matches";
import { isRevoked, isSignedOut, Refused } from "../../api/problem";
import { keep, recall } from "../../store/kept";
import { begunMatches, matchesWaiting, noteMatch, readLog, type Begun } from "../../store/log";
import { createStore } from "../../store/store";
import { pauseAfter } from "../../sync/rhythm";
import { engine } from "../ask";
import { lookAtSession, session } from "../session";
import { forgetDeleted } from "./deleted";
import { disk } from "./disk";
import { exchangeSoon } from "./exchange";
import { markOf } from "./live";
import { lookForLost } from "./lost";
import { NOT_COUNTED, summaryOf, type Summed } from "./summary";

/** A match in the list. where: the service has all of it; some of it waits to be sent; it is only on this device, perhaps by choice. */
export interface Entry extends MatchItem { readonly where: "sent" | "waiting" | "here" | "stays" | "missing" }

export interface Listed {
  readonly items: readonly Entry[];
  readonly next: string | null;
  readonly opponents: readonly Opponent[];
  /** there: the service has answered; gone: it cannot be reached; signed_out, revoked: it gives nothing to this device. */
  readonly state: "waiting" | "there" | "gone" | "signed_out" | "revoked";
  /** What could not be done, in words. */
  readonly problem: string;
}

export const listed = createStore<Listed>({ items: [], next: null, opponents: [], state: "waiting", problem: "" });

let served: readonly MatchItem[] = []; // as the service last said

/** Loads the list, and again by itself while the service cannot be reached; returns how to stop. */
export function followMatches(): () => void {
  let failures = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let wanted = true;
  const turn = async (): Promise<void> => {
    clearTimeout(timer);
    await loadMatches();
    failures = listed.get().state === "gone" ? failures + 1 : 0;
    clearTimeout(timer); // another turn may have set it meanwhile
    if (wanted && failures > 0) timer = setTimeout(turn, pauseAfter(failures));
  };
  const back = (): void => void (document.visibilityState === "visible" && listed.get().state === "gone" && turn());
  addEventListener("online", back);
  document.addEventListener("visibilitychange", back);
  void turn();
  return () => {
    wanted = false;
    clearTimeout(timer);
    removeEventListener("online", back);
    document.removeEventListener("visibilitychange", back);
  };
}

export async function loadMatches(): Promise<void> {
  const kept = await recall<{ items: readonly MatchItem[]; opponents: readonly Opponent[] }>("matches");
  if (kept && served.length === 0) served = kept.items;
  if (kept && listed.get().opponents.length === 0) listed.set({ opponents: kept.opponents });
  await show({});
  const { who, revoked, heard } = session.get();
  if (heard && !who) return nobody(revoked ? "revoked" : "signed_out");
  try {
    const [{ items, next }, opponents] = await Promise.all([listMatches(null), listOpponents().catch(noneFor)]);
    served = items;
    await show({ next, opponents, state: "there" });
    void keep("matches", { items, opponents });
    void lookForLost(items, next === null).then((changed) => (changed ? loadMatches() : undefined), () => undefined); // without a disk, or a server, nothing is lost
  } catch (problem) {
    const state = stateAfter(problem);
    if (state !== "gone") {
      void lookAtSession();
      return nobody(state);
    }
    await show({ state });
  }
  await sumUp().catch(() => undefined); // without a disk there is nothing to count
}

/** Only what is on this device: the service has nothing for it. */
async function nobody(state: "signed_out" | "revoked"): Promise<void> {
  served = [];
  await show({ state, next: null, opponents: [] });
  await sumUp().catch(() => undefined); // without a disk there is nothing to count
}

/** Who was let in for one match only has no opponents of other matches. */
function noneFor(problem: unknown): readonly Opponent[] {
  if (problem instanceof Refused && problem.status === 403) return [];
  throw problem;
}

const stateAfter = (problem: unknown): "revoked" | "signed_out" | "gone" => (isRevoked(problem) ? "revoked" : isSignedOut(problem) ? "signed_out" : "gone");

/** Forgets what the service said: this device has left its club. */
export async function forgetListed(): Promise<void> {
  const { who, revoked } = session.get();
  served = [];
  await show({ next: null, opponents: [], state: who ? "waiting" : revoked ? "revoked" : "signed_out" });
}

/** Shows what the service has and what is here, each match once, the newest first. */
async function show(change: Partial<Listed>): Promise<void> {
  const [here, waiting] = await disk.then((db) => Promise.all([begunMatches(db), matchesWaiting(db)])).catch(() => [[], []] as const);
  listed.set({ ...change, items: together(served, here, new Set(waiting), !["waiting", "there"].includes(change.state ?? listed.get().state)) });
}

/** Returns the service's matches and this device's as one list. What is here and not yet there goes before what the service said. */
export function together(items: readonly MatchItem[], here: readonly Begun[], waiting: ReadonlySet<string>, gone: boolean): Entry[] {
  const known = new Map(here.map((match) => [match.id, match]));
  const both = items.map((item): Entry => {
    const mine = known.get(item.id);
    const ahead = waiting.has(item.id) && mine?.summary ? (mine.summary as Summed) : {};
    return { ...item, ...ahead, ...(mine?.renamed && { name: mine.name }), where: waiting.has(item.id) ? "waiting" : "sent" };
  });
  const there = new Set(items.map(({ id }) => id));
  // What the service has may be on its later pages; without it, everything that is here is listed.
  const only = here.filter(({ id, begun, missing }) => !there.has(id) && (gone || !begun || missing || waiting.has(id))).map((match) => entryOf(match, waiting.has(match.id)));
  return [...only, ...both].sort((a, b) => (a.created_at < b.created_at ? 1 : a.created_at > b.created_at ? -1 : 0));
}

function entryOf({ id, name, begun, since_ms = 0, missing, stays, summary }: Begun, waits: boolean): Entry {
  const at = new Date(since_ms).toISOString();
  return {
    id, name, demo: false, ...((summary as Summed | undefined) ?? NOT_COUNTED), position: 0, created_at: at, changed_at: at,
    deleting: "It is on this device only. Deleting it here removes it for good: this cannot be undone.", where: missing ? "missing" : stays ? "stays" : !begun ? "here" : waits ? "waiting" : "sent",
  };
}

/** Has the engine count what was never counted here: a match that was begun and left at once. */
async function sumUp(): Promise<void> {
  const db = await disk;
  for (const { id, counted } of await begunMatches(db)) {
    const rows = await readLog<MatchEvent>(db, id);
    if (rows.length === 0 || counted === markOf(rows)) continue;
    const answer = await engine.replay(rows.map(({ event }) => event)).catch(() => null);
    if (!answer) return;
    await noteMatch(db, id, { summary: summaryOf(answer), counted: markOf(rows) });
    await show({});
  }
}

export async function loadMore(): Promise<void> {
  const { next } = listed.get();
  if (next === null) return;
  try {
    const page = await listMatches(next);
    served = [...served, ...page.items];
    await show({ next: page.next });
  } catch (problem) {
    listed.set({ state: stateAfter(problem) });
  }
}

/** Renames a match here, and there as soon as the service can be reached. */
export async function rename(id: string, name: string): Promise<void> {
  const given = name.trim() || null;
  try {
    await noteMatch(await disk, id, { name: given, renamed: true });
  } catch {
    return listed.set({ problem: "Not renamed: this device has no room, or does not let the app keep anything." });
  }
  await show({ problem: "" });
  try {
    const mine = (await begunMatches(await disk)).find((match) => match.id === id);
    if (!mine?.begun) return exchangeSoon(); // begun there first, under the new name
    const changed = await changeMatch(id, { name: given });
    served = served.map((item) => (item.id === id ? { ...item, ...changed } : item));
    await noteMatch(await disk, id, { renamed: false });
    await show({ state: "there" });
  } catch (problem) {
    listed.set({ state: stateAfter(problem) });
  }
}

const ONLY_HERE: readonly Entry["where"][] = ["here", "stays", "missing"];

/**
 * Deletes a match, for everyone: that needs the service, and is never done later behind the coach's back. What is on this
 * device only is deleted here.
 */
export async function remove({ id, where }: Entry): Promise<void> {
  try {
    await removeMatch(id);
  } catch (problem) {
    const gone = problem instanceof Refused && (problem.status === 404 || problem.status === 410);
    if (!gone && !ONLY_HERE.includes(where)) {
      return listed.set({
        problem: isSignedOut(problem) || isRevoked(problem) ? "Not deleted: sign in first." : problem instanceof Refused ? `Not deleted: ${problem.status === 403 ? "only the coach deletes a match" : problem.message}.` : "Not deleted. A match is deleted for every device at once, and the server cannot be reached: delete it when it is back.",
      });
    }
  }
  await forgetDeleted(await disk, id);
  served = served.filter((item) => item.id !== id);
  await show({ problem: "" });
}
