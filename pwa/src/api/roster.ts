/** The requests about our own teams, typed; every failure is either Refused or Unreachable. */
import { send, withBody } from "./client";
import type { components } from "./schema";
import type { CallAnswer, CallRequest, Kind } from "./types";

type Schemas = components["schemas"];
export type Team = Schemas["TeamAnswer"];
export type TeamDetail = Schemas["TeamDetailAnswer"];
/** A player of ours, with her serves. */
export type Rostered = Schemas["RosterPlayerAnswer"];
export type OwnServe = Schemas["ServeAnswer"];
export type Role = NonNullable<Rostered["role"]>;
export type Corners = Schemas["CornersAnswer"];
export type Imported = Schemas["ImportAnswer"];
export type Column = NonNullable<Imported["columns"][number]["field"]>;
export type PlayerChange = Schemas["PlayerChange"];

export const ROLES = ["setter", "outside", "opposite", "middle", "libero", "defender"] as const satisfies readonly Role[];
export const COLUMNS = [
  "number", "name", "role", "handedness", "reach_m", "serve", "pace_m_s", "pace_km_h", "pace_mph", "spots", "level", "across_m", "along_m",
  "measured_serves", "error_ceiling", "misses_in_100", "next_job", "comes_in_for",
] as const satisfies readonly Column[];

/** What is put into a request for a call before it is asked: what was entered of an opponent, and of our server. */
export interface PreparedRequest {
  readonly request: CallRequest;
  readonly opponent: Schemas["OpponentProfileAnswer"] | null;
  readonly player: Pick<Rostered, "reach_m" | "serves"> | null;
  /** Which of her serves; null for the first of them, and where a call is asked for, for all. */
  readonly kind: Kind | null;
}

const GET: RequestInit = { headers: { Accept: "application/json" } };
const DELETE: RequestInit = { ...GET, method: "DELETE" };
const of = (team: string): string => `/teams/${team}`;
const player = (team: string, id: string): string => `${of(team)}/players/${id}`;

export const listTeams = async (after: string | null): Promise<Schemas["TeamsAnswer"]> => (await send(`/teams${after ? `?after=${after}` : ""}`, GET)) as Schemas["TeamsAnswer"];
export const getTeam = async (id: string): Promise<TeamDetail> => (await send(of(id), GET)) as TeamDetail;
export const addTeam = async (team: Schemas["TeamRequest"]): Promise<TeamDetail> => (await send("/teams", withBody("POST", team))) as TeamDetail;
export const changeTeam = async (id: string, change: Schemas["TeamChange"]): Promise<TeamDetail> => (await send(of(id), withBody("PATCH", change))) as TeamDetail;
export const removeTeam = async (id: string): Promise<unknown> => send(of(id), DELETE);
export const addPlayer = async (team: string, one: Schemas["PlayerRequest"]): Promise<Rostered> => (await send(`${of(team)}/players`, withBody("POST", one))) as Rostered;
export const changePlayer = async (team: string, id: string, change: PlayerChange): Promise<Rostered> => (await send(player(team, id), withBody("PATCH", change))) as Rostered;
export const removePlayer = async (team: string, id: string): Promise<unknown> => send(player(team, id), DELETE);
export const getCorners = async (team: string, id: string): Promise<Corners> => (await send(`${player(team, id)}/corners`, GET)) as Corners;

/** Reads a table of players, as text or as the file itself; keeps it only when `dry` is false. `columns`: null lets the service guess. */
export async function importPlayers(team: string, table: string | Blob, columns: readonly (Column | null)[] | null, dry: boolean): Promise<Imported> {
  const asked = `${of(team)}/players/import?dry_run=${dry ? 1 : 0}${columns ? `&columns=${columns.map((one) => one ?? "").join(",")}` : ""}`;
  const raw: RequestInit = { method: "POST", headers: { "Content-Type": "text/csv", Accept: "application/json" }, body: table };
  return (await send(asked, typeof table === "string" ? withBody("POST", { text: table }) : raw)) as Imported;
}

export const playersAddress = (team: string): string => `/api/v1/teams/${team}/players.csv`;

const OF_OPPONENT = ["level", "lineup", "setters", "setter_position", "system", "liberos", "pass_target", "setter_faces", "ratings", "formations"] as const;

/** Returns what the service is told of what is known. Names stay here: it needs none. */
function nameless({ request, opponent, player: her, kind }: PreparedRequest): object {
  const theirs = opponent && Object.fromEntries(OF_OPPONENT.map((name) => [name, opponent[name]]));
  return { request, opponent: theirs, player: her && { reach_m: her.reach_m, serves: her.serves }, kind };
}

/** Has the service put what is known into a request. */
export async function postPrepared(asked: PreparedRequest): Promise<CallRequest> {
  return ((await send("/prepared", withBody("POST", nameless(asked)))) as { request: CallRequest }).request;
}

/** Has the service call the best of a server's serves. */
export const postChosen = async (asked: PreparedRequest): Promise<CallAnswer> => (await send("/chosen", withBody("POST", nameless(asked)))) as CallAnswer;
