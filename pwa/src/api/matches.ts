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

export const postEvents = async (id: string, events: readonly MatchEvent[]): Promise<Posted> => (await send(`${of(id)}/events`, withBody("POST", { events }))) as Posted;

export interface Page { readonly items: readonly { readonly position: number; readonly event: MatchEvent }[]; readonly more: boolean }
export const eventsAfter = async (id: string, position: number): Promise<Page> => (await send(`${of(id)}/events?after=${position}`, GET)) as Page;

export const postReplay = async (events: readonly MatchEvent[]): Promise<ReplayAnswer> => (await send("/replay", withBody("POST", { events }))) as ReplayAnswer;

export const postReview = async (events: readonly MatchEvent[], side: Side, set_number: number | null): Promise<Review> =>
  (await send("/review", withBody("POST", { events, side, set_number }))) as Review;

/** The review as the service counts it from its own copy of the log, up to a position. */
export const getReview = async (id: string, set_number: number | null): Promise<Review> =>
  (await send(`${of(id)}/review${set_number === null ? "" : `?set_number=${set_number}`}`, GET)) as Review;

export const csvAddress = (id: string): string => `/api/v1/matches/${id}/serves.csv`;
export const logAddress = (id: string): string => `/api/v1/matches/${id}/log`;
