/** The exchange with the service, beside what is on the screen: at the start, when network or reader are back, and on a timer while the page is seen. */
import type { MatchEvent } from "../../api/match";
import { showMatch } from "../../api/matches";
import { isRevoked, isSignedOut, Refused, Unreachable } from "../../api/problem";
import { mark, matchesWaiting, matchKnown, noteMatch, refusedRows, type Begun, type Db } from "../../store/log";
import { pull, push } from "../../sync/push";
import { pauseAfter } from "../../sync/rhythm";
import { alone, tellTabs } from "../../sync/tabs";
import { lookAtSession, session } from "../session";
import { momentNow } from "./age";
import { disk, reread } from "./disk";
import { live, markOf, waitingToBeSent, type Contact } from "./live";

let timer: ReturnType<typeof setTimeout> | undefined;
let failures = 0;
let wait_s = 0;
let notBefore = 0; // by performance.now(): the service asked to be left alone until then
let busy = false;
let again = false;

/** Exchanges at once, after a tap; while the service does not answer, its turn comes by itself. */
export const exchangeSoon = (): void => void (failures === 0 && exchange());

/** Exchanges at once, whatever happened before: the network or the reader is back, or the coach asked. */
export function exchangeNow(): void {
  failures = 0;
  void exchange();
}

/** Starts the exchange, for as long as the page lives. */
export function exchangeWhenBack(): void {
  addEventListener("online", exchangeNow);
  let { who } = session.get();
  session.watch(() => {
    if (who === session.get().who) return;
    who = session.get().who;
    if (who) exchangeNow(); // somebody has come in
  });
  document.addEventListener("visibilitychange", () => (document.visibilityState === "visible" ? exchangeNow() : clearTimeout(timer)));
  exchangeNow();
}

async function exchange(): Promise<void> {
  again = true;
  if (busy) return;
  busy = true;
  clearTimeout(timer);
  while (again && performance.now() >= notBefore) {
    again = shut = false;
    await alone("exchange", everything).catch(failed);
  }
  busy = false;
  await plan();
}

/** Nobody is let in until somebody signs in: asking again and again changes nothing. */
let shut = false;

/** While the page is seen and there is something to exchange, the next turn comes by itself. */
async function plan(): Promise<void> {
  clearTimeout(timer);
  if (document.visibilityState !== "visible" || (shut && !again)) return;
  const waiting = live.get().id !== null || (await disk.then(matchesWaiting).catch(() => [])).length > 0;
  clearTimeout(timer); // another may have been set meanwhile
  if (waiting) timer = setTimeout(() => void exchange(), pauseAfter(failures, wait_s));
}

async function everything(): Promise<void> {
  const db = await disk;
  const { id } = live.get();
  let open: unknown = null;
  if (id) await one(db, id).catch((problem: unknown) => void (open = problem));
  if (open && !isMissing(open) && !isOfOneMatch(open)) throw open;
  for (const other of await matchesWaiting(db)) {
    if (other !== id) await push(db, other).then(() => undefined, (problem: unknown) => leftFor(db, other, problem));
  }
  if (open) throw open;
  failures = 0;
  wait_s = 0;
}

const NOTED_MS = 15_000; // chosen: the disk need not know it more exactly

/** Sends and fetches the match on the screen. */
async function one(db: Db, id: string): Promise<void> {
  if ((await matchKnown(db, id))?.stays) return contact(id, { trouble: "stays", status: 0 });
  const before = markOf(live.get().rows);
  let changed = true; // unless it is known that nothing did
  try {
    const settled = await push(db, id);
    const came = await pull(db, id);
    changed = settled > 0 || came || waitingToBeSent(live.get()) > 0; // another turn or tab may have sent what is shown as waiting
    contact(id, { trouble: "", status: 0, heard: momentNow() });
  } finally {
    if (changed) await shown(db, id);
    if (markOf(live.get().rows) !== before) tellTabs(id);
  }
  const known = await matchKnown(db, id);
  if (known?.lost_ms !== undefined) contact(id, { lost_ms: known.lost_ms });
  const noted = known && !known.missing && Math.abs(Date.now() - (known.heard_ms ?? 0)) < NOTED_MS;
  if (!noted && (known || live.get().rows.length > 0)) await noteMatch(db, id, { heard_ms: Date.now(), missing: false });
  if (live.get().detail || live.get().id !== id) return;
  const detail = await showMatch(id);
  if (live.get().id === id) live.set({ detail });
  if (!known?.renamed) await noteMatch(db, id, { name: detail.name, since_ms: Date.parse(detail.created_at) });
}

async function shown(db: Db, id: string): Promise<void> {
  await reread(id);
  const turnedDown = await refusedRows<MatchEvent>(db, id);
  if (live.get().id === id && (turnedDown.length > 0 || live.get().turnedDown.length > 0)) live.set({ turnedDown });
}

function contact(id: string, change: Partial<Contact>): void {
  const now = { ...live.get().contact, ...change };
  if (live.get().id === id) live.set({ contact: now, missing: now.trouble === "missing" });
}

const statusOf = (problem: unknown): number => (problem instanceof Refused ? problem.status : 0);
const isMissing = (problem: unknown): boolean => statusOf(problem) === 404 || statusOf(problem) === 410;

/** The other matches have their turn all the same: this one is not for who is signed in, or the service held what it sent. */
const isOfOneMatch = (problem: unknown): boolean => statusOf(problem) === 403 || isRevoked(problem);

/** Another match could not be sent: kept. One that the service has no more does not stop the rest; anything else is a failure for all. */
async function leftFor(db: Db, id: string, problem: unknown): Promise<void> {
  if (isRevoked(problem)) return stop();
  if (isMissing(problem)) return noteMissing(db, id);
  if (!isOfOneMatch(problem)) throw problem;
}

/** Notes that the service has no such match; to a device that was let in for one match it says so of every other. */
async function noteMissing(db: Db, id: string): Promise<void> {
  if (!session.get().who?.match_id) await noteMatch(db, id, { missing: true });
}

/** Nobody is let in any more until somebody signs in. */
function stop(): void {
  shut = true;
  const { who, heard } = session.get();
  if (who || !heard) void lookAtSession().then(goOn);
}

/** Somebody is signed in all the same: the next turn comes by itself. */
function goOn(): void {
  if (!session.get().who) return;
  shut = false;
  void plan();
}

/** Returns what a failure means for the coach. */
export function troubleOf(problem: unknown): Contact["trouble"] {
  if (isMissing(problem)) return "missing";
  if (isRevoked(problem)) return "revoked";
  if (isSignedOut(problem)) return "signed_out";
  if (problem instanceof Refused) return problem.status === 403 ? "not_allowed" : "later";
  return problem instanceof Unreachable ? "away" : "full"; // what is no answer and no silence came from the disk
}

async function failed(problem: unknown): Promise<void> {
  failures += 1;
  wait_s = problem instanceof Refused || problem instanceof Unreachable ? problem.wait_s : 0;
  notBefore = performance.now() + wait_s * 1000;
  if (isRevoked(problem) || isSignedOut(problem)) stop();
  const { id, rows } = live.get();
  if (!id) return;
  const trouble = troubleOf(problem);
  contact(id, { trouble, status: statusOf(problem) });
  if (trouble === "missing" && rows.length > 0) await disk.then((db) => noteMissing(db, id)).catch(() => undefined);
}

/** Sends a refused event again. */
export async function sendAgain(ids: readonly string[]): Promise<void> {
  await remark(ids.map((id) => ({ id, refused: "" })));
  exchangeNow();
}

/** Takes a refused event from the list; it stays on the disk. */
export const drop = (ids: readonly string[]): Promise<void> => remark(ids.map((id) => ({ id, dropped: true })));

async function remark(marks: readonly { id: string; refused?: string; dropped?: boolean }[]): Promise<void> {
  const { id } = live.get();
  const db = await disk;
  if (!id) return;
  await mark(db, id, marks);
  await shown(db, id);
  tellTabs(id);
}

/** Shows what is known of a match before anybody answers. */
export function asKnown(known: Begun | undefined): Partial<Contact> {
  return { heard: known?.heard_ms ? { wall_ms: known.heard_ms, steady_ms: null } : null, trouble: known?.missing ? "missing" : known?.stays ? "stays" : "", lost_ms: known?.lost_ms ?? null };
}
