/** Who is signed in on this device. It is kept, so that a device goes on as what it was without network. */
import { endSession, getSession, joinByCode, putPassword, signInByLink, signInByPassword, type Role, type Session, type Who } from "../api/club";
import { Refused } from "../api/problem";
import { forgetAllBut, keep, recall } from "../store/kept";
import { createStore } from "../store/store";

export interface SessionHere {
  /** Null for nobody. */
  readonly who: Who | null;
  /** This device was signed in, and the coach has revoked it. */
  readonly revoked: boolean;
  /** For a server view: the match whose call it shows. */
  readonly now_playing: string | null;
  /** The club whose matches are here, also after the server has signed this device out. */
  readonly of: string | null;
  /** What was kept has been read. */
  readonly awake: boolean;
  /** The server has said it since the page was opened. */
  readonly heard: boolean;
}

export const session = createStore<SessionHere>({ who: null, revoked: false, now_playing: null, of: null, awake: false, heard: false });

const RANK: Record<Role, number> = { server: 1, assistant: 2, coach: 3 };

/** Whether who is signed in here has at least this role; without network, whether she had it. */
export const may = (least: Role, { who } = session.get()): boolean => who !== null && RANK[who.role] >= RANK[least];

/** What of the kept values is this device's own, and no club's. */
const OWN = ["question", "settings", "stock", "last", "match-prefs", "our-side", "pace of codes", "session"];

/** What goes: names and whatever else comes from the club, or also the logs of matches that its server has. */
type Goes = "names" | "all";

interface Kept extends Pick<SessionHere, "who" | "revoked"> {
  readonly of?: SessionHere["of"];
  /** What the club had here is being removed; a page that is closed meanwhile ends it at the next start. */
  readonly leaving?: Goes;
}

/** Reads who was signed in, then asks the server. */
export async function wakeSession(): Promise<void> {
  const kept = await recall<Kept>("session");
  session.set({ who: kept?.who ?? null, revoked: kept?.revoked ?? false, of: kept?.of ?? kept?.who?.club.id ?? null, awake: true });
  if (kept?.leaving) await forgetClub(kept, kept.leaving);
  addEventListener("online", () => void lookAtSession());
  document.addEventListener("visibilitychange", () => void (document.visibilityState === "visible" && lookAtSession()));
  await lookAtSession();
}

/** Asks the server who is signed in here. Where it does not answer, all stays as it was; returns whether it did. */
export async function lookAtSession(): Promise<boolean> {
  const answer = await getSession().catch(() => null);
  if (answer) await heard(answer);
  return answer !== null;
}

/**
 * What the server says of this device. What was kept of a club does not outlive its end here, but for what it does not have yet. Where the
 * server knows nobody any more the names go: the club may be deleted. The logs stay: it may be an older backup that lacks them.
 */
async function heard({ who, revoked, now_playing }: Session): Promise<void> {
  const before = session.get();
  session.set({ who, revoked, now_playing, heard: true });
  const other = who !== null && before.of !== null && before.of !== who.club.id;
  if (revoked || other) await forgetClub({ who, revoked }, "all");
  else if (before.who && !who) await forgetClub({ who, revoked }, "names");
  else await remember({ who, revoked });
  if (who && who.role !== "server") for (const renew of renewals) await renew();
}

async function remember(kept: Kept): Promise<void> {
  const of = kept.who?.club.id ?? session.get().of;
  session.set({ of });
  await keep("session", { ...kept, of } satisfies Kept);
}

const renewals: (() => Promise<void> | void)[] = [];
/** Calls back when the server has said who is signed in here: what is kept of the club may be out of date. */
export const whenHeard = (renew: () => Promise<void> | void): void => void renewals.push(renew);

const clearings: ((goes: Goes) => Promise<void> | void)[] = [];
/** Calls back when what a club has must go from this device: it was revoked, somebody signed out, or the server knows nobody any more. */
export const whenLeft = (clear: (goes: Goes) => Promise<void> | void): void => void clearings.push(clear);

async function forgetClub({ who, revoked }: Kept, goes: Goes): Promise<void> {
  await remember({ who, revoked, leaving: goes });
  await forgetAllBut(OWN);
  for (const clear of clearings) await clear(goes);
  if (goes === "all") session.set({ of: null });
  await remember({ who, revoked });
}

/** Signs in with what the link carried; returns why not, "" if it worked. */
export const enterByLink = (once: string, label: string): Promise<string> => enter(() => signInByLink(once, label), "This link is not good any more. It works once and for a day: start the server again for a new one, or ask whoever runs it.");
export const enterByPassword = (name: string, password: string, label: string): Promise<string> => enter(() => signInByPassword(name, password, label), "Name and password do not go together.");
export const enterByCode = (code: string, label: string): Promise<string> => enter(() => joinByCode(code, label), "This code is not good any more. It works once and for ten minutes: ask the coach for a new one.");

async function enter(ask: () => Promise<Session>, wrong: string): Promise<string> {
  try {
    await heard(await ask());
    return "";
  } catch (problem) {
    return said(problem, wrong);
  }
}

const MINUTE_S = 60;

/** Returns why something was refused, in a sentence; `wrong` for what was not right (401). */
export function said(problem: unknown, wrong: string): string {
  if (!(problem instanceof Refused)) return "The server cannot be reached. Nothing was changed.";
  if (problem.status === 401) return wrong;
  if (problem.status === 429) return `Too many tries. Try again in ${problem.wait_s > MINUTE_S ? `${Math.ceil(problem.wait_s / MINUTE_S)} minutes` : "a minute"}.`;
  const [fault] = problem.faults;
  return fault ? `Expected ${fault.expected}.` : `${problem.about.detail || problem.message}.`;
}

/** Signs out here; returns why not. What the club keeps is removed from this device; what it does not have yet stays. */
export async function leave(): Promise<string> {
  try {
    await endSession();
  } catch (problem) {
    if (!(problem instanceof Refused && problem.status === 401)) return said(problem, "");
  }
  await left();
  return "";
}

/** Nobody is signed in here any more. */
export async function left(): Promise<void> {
  session.set({ who: null, revoked: false, now_playing: null });
  await forgetClub({ who: null, revoked: false }, "all");
}

/** Sets a password; returns why not. */
export async function setPassword(password: string, current: string | null): Promise<string> {
  try {
    await putPassword(password, current);
    await lookAtSession();
    return "";
  } catch (problem) {
    return said(problem, "The present password is not right.");
  }
}
