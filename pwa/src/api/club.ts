/** The requests about who is signed in, devices, tokens and the club, typed; every failure is either Refused or Unreachable. */
import { send, withBody } from "./client";
import type { components } from "./schema";
import type { CallAnswer } from "./types";

type Of<Name extends keyof components["schemas"]> = components["schemas"][Name];
export type Session = Of<"SessionAnswer">;
export type Who = Of<"WhoAnswer">;
export type Role = Who["role"];
export type Device = Of<"DeviceAnswer">;
export type Code = Of<"CodeAnswer">;
export type CodeRequest = Of<"CodeRequest">;
export type Club = Of<"ClubAnswer">;
export type Token = Of<"TokenAnswer">;
export type NewToken = Of<"NewTokenAnswer">;
export type TokenRequest = Of<"TokenRequest">;
export type HeldMatch = Of<"HeldMatchAnswer">;
export type Accepted = Of<"TakenAnswer">;

const GET: RequestInit = { headers: { Accept: "application/json" } };
const DELETE: RequestInit = { ...GET, method: "DELETE" };

export const getSession = async (): Promise<Session> => (await send("/session", GET)) as Session;
export const signInByLink = async (once: string, label: string): Promise<Session> => (await send("/session", withBody("POST", { once, label }))) as Session;
export const signInByPassword = async (name: string, password: string, label: string): Promise<Session> =>
  (await send("/session", withBody("POST", { name, password, label }))) as Session;
export const joinByCode = async (code: string, label: string): Promise<Session> => (await send("/join", withBody("POST", { code, label }))) as Session;
export const endSession = async (): Promise<void> => void (await send("/session", DELETE));
export const putPassword = async (password: string, current: string | null): Promise<void> =>
  void (await send("/password", withBody("PUT", { password, ...(current !== null && { current }) })));

export const getClub = async (): Promise<Club> => (await send("/club", GET)) as Club;
export const nameClub = async (name: string): Promise<Club> => (await send("/club", withBody("PATCH", { name }))) as Club;
export const removeClub = async (): Promise<{ text: string; traces_removed: boolean }> => (await send("/club", DELETE)) as Of<"ClubRemovedAnswer">;
export const exportAddress = "/api/v1/club/export";

export const makeCode = async (request: CodeRequest): Promise<Code> => (await send("/devices/codes", withBody("POST", request))) as Code;
export const listDevices = async (): Promise<readonly Device[]> => ((await send("/devices", GET)) as Of<"DevicesAnswer">).items;
export const revokeDevice = async (id: string): Promise<void> => void (await send(`/devices/${id}`, DELETE));
export const listHeld = async (id: string): Promise<readonly HeldMatch[]> => ((await send(`/devices/${id}/held`, GET)) as Of<"HeldAnswer">).items;
export const acceptHeld = async (id: string): Promise<readonly Accepted[]> => ((await send(`/devices/${id}/held/accept`, { ...GET, method: "POST" })) as Of<"AcceptedAnswer">).items;
export const discardHeld = async (id: string): Promise<number> => ((await send(`/devices/${id}/held`, DELETE)) as Of<"DiscardedAnswer">).discarded;

export const listTokens = async (): Promise<readonly Token[]> => ((await send("/tokens", GET)) as Of<"TokensAnswer">).items;
export const makeToken = async (request: TokenRequest): Promise<NewToken> => (await send("/tokens", withBody("POST", request))) as NewToken;
export const removeToken = async (id: string): Promise<void> => void (await send(`/tokens/${id}`, DELETE));

/** The names of the club's own teams: a server view may be one team's. */
export const teamNames = async (): Promise<readonly string[]> => ((await send("/teams", GET)) as Of<"TeamsAnswer">).items.map(({ name }) => name);

export type MatchCall = CallAnswer & { readonly made_for: Of<"MadeForAnswer"> };
/** The call for our next serve in a match. */
export const matchCall = async (id: string): Promise<MatchCall> => (await send(`/matches/${id}/call`, withBody("POST", {}))) as MatchCall;
