/** The requests about matches, typed; every failure is either Refused or Unreachable. */
import { send, withBody } from "./client";
import type { MatchDetail, MatchEvent, MatchItem, Opponent, Posted, ReplayAnswer, Review, Side, Signals } from "./match";

const GET: RequestInit = { headers: { Accept: "application/json" } };
const of = (id: string): string => `/matches/${id}`;

export async function listMatches(before: string | null): Promise<{ items: readonly MatchItem[]; next: string | null }> {
  return (await send(`/matches${before ? `?before=${before}` : ""}`, GET)) as { items: readonly MatchItem[]; next: string | null };
}

/** Begins a match under an id of our own: asking twice begins one. */
export async function beginMatch(id: string, name: string | null): Promise<MatchDetail> {
  return (await send("/matches", withBody("POST", { id, name }))) as MatchDetail;
}

export const showMatch = async (id: string): Promise<MatchDetail> => (await send(of(id), GET)) as MatchDetail;

export const changeMatch = async (id: string, change: { name?: string | null; signals?: Signals }): Promise<MatchDetail> =>
  (await send(of(id), withBody("PATCH", change))) as MatchDetail;

export const removeMatch = async (id: string): Promise<{ text: string }> => (await send(of(id), { ...GET, method: "DELETE" })) as { text: string };

export const listOpponents = async (): Promise<readonly Opponent[]> => ((await send("/matches/opponents", GET)) as { items: readonly Opponent[] }).items;

/** `known`: the last event up to which this device has the log; null for none. */
export const postEvents = async (id: string, events: readonly MatchEvent[], known: Place | null): Promise<Posted> =>
  (await send(`${of(id)}/events`, withBody("POST", { events, ...(known && { known }) }))) as Posted;

/** An event's place in a match. */
export interface Place { readonly position: number; readonly id: string }

export interface Page { readonly items: readonly { readonly position: number; readonly event: MatchEvent }[]; readonly more: boolean; readonly after_id: string | null }
export const eventsAfter = async (id: string, position: number): Promise<Page> => (await send(`${of(id)}/events?after=${position}`, GET)) as Page;

export const postReplay = async (events: readonly MatchEvent[]): Promise<ReplayAnswer> => (await send("/replay", withBody("POST", { events }))) as ReplayAnswer;

export const postReview = async (events: readonly MatchEvent[], side: Side, set_number: number | null): Promise<Review> =>
  (await send("/review", withBody("POST", { events, side, set_number }))) as Review;

export const postServes = async (events: readonly MatchEvent[], name: string | null): Promise<{ text: string }> =>
  (await send("/serves", withBody("POST", { events, name }))) as { text: string };

/** The review as the service counts it from its own copy of the log, up to a position. */
export const getReview = async (id: string, set_number: number | null): Promise<Review> =>
  (await send(`${of(id)}/review${set_number === null ? "" : `?set_number=${set_number}`}`, GET)) as Review;

