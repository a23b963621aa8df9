/** The requests about opponents, their formations and the call book, typed; every failure is either Refused or Unreachable. */
import { send, withBody } from "./client";
import type { Side } from "./match";
import type { TeamDetail } from "./roster";
import type { Of, Position } from "./types";

export type ListedOpponent = Of<"ListedOpponentAnswer">;
export type OpponentProfile = Of<"OpponentProfileAnswer">;
export type NewOpponent = Of<"NewOpponent">;
export type OpponentChange = Of<"OpponentChange">;
export type Rating = Of<"RatingAnswer">;

/** Six receivers as they stand, in order or not. */
export type CheckedFormation = Of<"CheckedFormationAnswer">;
export type KeptFormation = Of<"KeptFormationAnswer">;
export type FormationPlayer = Of<"FormationPlayerAnswer">;
export type Breach = CheckedFormation["breaches"][number];
export type FormationAsked = Of<"FormationQuestion">;
export type FormationGiven = Of<"FormationRequest">;
export type Copied = Of<"CopiedAnswer">;

export type Book = Of<"BookAnswer">;
export type BookRotation = Book["rotations"][number];
export type BookCall = BookRotation["calls"][number];

export const LEVELS = ["under_14", "high_school", "college", "elite_women", "elite_men"] as const satisfies readonly NonNullable<OpponentProfile["level"]>[];

/** One rotation of a call book. `lineup`: ours, if it is not the usual one. */
export interface BookAsked {
  readonly opponent: OpponentProfile;
  readonly team: TeamDetail;
  readonly lineup: readonly (number | null)[] | null;
  readonly serving_first: Side | null;
  readonly turn: number;
}

const BOOK_PATIENCE_MS = 30_000; // chosen: eight calls at once, on a server that has just started
const GET: RequestInit = { headers: { Accept: "application/json" } };
const DELETE: RequestInit = { ...GET, method: "DELETE" };
const of = (id: string): string => `/opponents/${id}`;
const at = (id: string, setter_position: Position): string => `${of(id)}/formations/${setter_position}`;

export async function listOpponents(after: string | null): Promise<Of<"ListedOpponentsAnswer">> {
  return (await send(`/opponents${after ? `?after=${after}` : ""}`, GET)) as Of<"ListedOpponentsAnswer">;
}

export const opponentsNamed = async (name: string): Promise<Of<"ListedOpponentsAnswer">> => (await send(`/opponents?${new URLSearchParams({ name })}`, GET)) as Of<"ListedOpponentsAnswer">;
export const addOpponent = async (given: NewOpponent): Promise<OpponentProfile> => (await send("/opponents", withBody("POST", given))) as OpponentProfile;
export const showOpponent = async (id: string): Promise<OpponentProfile> => (await send(of(id), GET)) as OpponentProfile;
export const changeOpponent = async (id: string, change: OpponentChange): Promise<OpponentProfile> => (await send(of(id), withBody("PATCH", change))) as OpponentProfile;
export const removeOpponent = async (id: string): Promise<unknown> => send(of(id), DELETE);

export const postFormation = async (asked: FormationAsked): Promise<CheckedFormation> => (await send("/formations", withBody("POST", asked))) as CheckedFormation;

/** Keeps a formation for good. */
export const putFormation = async (id: string, setter_position: Position, given: FormationGiven): Promise<KeptFormation> =>
  (await send(at(id, setter_position), withBody("PUT", given))) as KeptFormation;

/** Forgets a formation: the stock one stands there again. */
export const removeFormation = async (id: string, setter_position: Position): Promise<KeptFormation> => (await send(at(id, setter_position), DELETE)) as KeptFormation;

export const copyFormation = async (id: string, setter_position: Position, to: readonly Position[]): Promise<Copied> =>
  (await send(`${at(id, setter_position)}/copy`, withBody("POST", { to }))) as Copied;

export async function getBook({ opponent, team, lineup, serving_first, turn }: BookAsked): Promise<Book> {
  const query = new URLSearchParams({ team: team.id, turn: String(turn) });
  if (lineup) query.set("lineup", lineup.map((number) => number ?? "").join(","));
  if (serving_first) query.set("serving_first", serving_first);
  return (await send(`${of(opponent.id)}/book?${query}`, GET, BOOK_PATIENCE_MS)) as Book;
}

/** Returns the same as the engine on the device takes it. */
export function bookRequest({ opponent, team, lineup, serving_first, turn }: BookAsked): unknown {
  const level = opponent.level ?? team.level;
  const ours = lineup ?? team.lineup;
  return { opponent, roster: team.roster, turn, ...(level && { level }), ...(ours && { lineup: ours }), ...(serving_first && { serving_first }) };
}
