/** The club as its coach sees it: devices, what revoked ones sent, tokens, its name and its end. All of it needs the server. */
import { acceptHeld, discardHeld, getClub, listDevices, listHeld, listTokens, makeCode, makeToken, nameClub, removeClub, removeToken, revokeDevice, teamNames, type Accepted, type Club, type Code, type CodeRequest, type Device, type HeldMatch, type NewToken, type Token, type TokenRequest } from "../api/club";
import { isRevoked, isSignedOut } from "../api/problem";
import { createStore } from "../store/store";
import { left, lookAtSession, said, whenLeft } from "./session";

export interface ClubHere {
  readonly club: Club | null;
  readonly devices: readonly Device[];
  readonly tokens: readonly Token[];
  readonly teams: readonly string[];
  readonly state: "waiting" | "there" | "gone";
  /** What could not be done, in words. */
  readonly problem: string;
  /** What was done, in words. */
  readonly done: string;
  /** What a revoked device sent, by the device. */
  readonly held: Readonly<Record<string, readonly HeldMatch[]>>;
  /** The token just made, with its secret. */
  readonly fresh: NewToken | null;
}

const NOTHING: ClubHere = { club: null, devices: [], tokens: [], teams: [], state: "waiting", problem: "", done: "", held: {}, fresh: null };
export const club = createStore<ClubHere>(NOTHING);
whenLeft(() => club.set({ ...NOTHING, done: club.get().done }));

export async function loadClub(): Promise<void> {
  try {
    const [its, devices, tokens, teams] = await Promise.all([getClub(), listDevices(), listTokens(), teamNames()]);
    club.set({ club: its, devices, tokens, teams, state: "there", problem: "" });
  } catch (problem) {
    if (isSignedOut(problem) || isRevoked(problem)) return void (await lookAtSession());
    club.set({ state: "gone" });
  }
}

export const beginClub = (): void => club.set({ problem: "", done: "", fresh: null });

/** Does something and reads the club again; says what was done, or why not. */
async function act(what: () => Promise<string>): Promise<boolean> {
  try {
    const done = await what();
    club.set({ done, problem: "" });
    await loadClub();
    return true;
  } catch (problem) {
    club.set({ problem: said(problem, "You are signed out on this device."), done: "" });
    return false;
  }
}

export const renameClub = (name: string): Promise<boolean> => act(async () => {
  await nameClub(name);
  await lookAtSession();
  return "Renamed.";
});

/** Revokes a device; this one is signed out by it. */
export async function revoke({ id, label, this: here }: Device): Promise<void> {
  if (!here) return void (await act(async () => (await revokeDevice(id), `${label} is revoked.`)));
  try {
    await revokeDevice(id);
    await left();
  } catch (problem) {
    club.set({ problem: said(problem, "") });
  }
}

export async function lookAtHeld(id: string): Promise<void> {
  try {
    club.set({ held: { ...club.get().held, [id]: await listHeld(id) } });
  } catch (problem) {
    club.set({ problem: said(problem, "") });
  }
}

const events = (n: number): string => (n === 1 ? "1 event" : `${n} events`);

/** Returns what became of what was held, in words. */
export function acceptedInWords(items: readonly Accepted[]): string {
  const all = (of: "accepted" | "known" | "refused"): number => items.reduce((sum, item) => sum + item[of], 0);
  const parts = [`${events(all("accepted"))} accepted`, all("known") > 0 ? `${all("known")} known already` : "", all("refused") > 0 ? `${all("refused")} refused, and still held` : ""];
  const why = items.flatMap(({ problem }) => (problem ? [problem] : []));
  return `${parts.filter(Boolean).join(", ")}.${why.length > 0 ? ` ${why.join(" ")}` : ""}`;
}

export const accept = (id: string): Promise<boolean> => act(async () => acceptedInWords(await acceptHeld(id)));
export const discard = (id: string): Promise<boolean> => act(async () => `${events(await discardHeld(id))} discarded.`);

/** Makes a code that lets a device in; returns it, or why there is none. */
export const codeFor = (request: CodeRequest): Promise<Code | string> => makeCode(request).catch((problem: unknown) => said(problem, "You are signed out on this device."));

export const addToken = (request: TokenRequest): Promise<boolean> => act(async () => {
  club.set({ fresh: await makeToken(request) });
  return "";
});
export const dropToken = ({ id, label }: Token): Promise<boolean> => act(async () => {
  await removeToken(id);
  if (club.get().fresh?.id === id) club.set({ fresh: null });
  return `The token ${label} works no more.`;
});

/** Deletes the club, for everyone; returns what the server said of it. */
export async function deleteClub(): Promise<void> {
  try {
    const { text, traces_removed } = await removeClub();
    club.set({ done: traces_removed ? text : `${text} Its traces in the database’s file are removed with the next deletion, or when the server is started next.` });
    await left();
  } catch (problem) {
    club.set({ problem: said(problem, "You are signed out on this device.") });
  }
}
