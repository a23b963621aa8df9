/** Opens a match and keeps up with it: from the disk at once, then the engine's answer, then the service. */
import { Refused } from "../../api/problem";
import type { MatchDetail, MatchEvent, ReplayAnswer } from "../../api/match";
import { getReview, showMatch } from "../../api/matches";
import type { CallAnswer } from "../../api/types";
import { keep, recall } from "../../store/kept";
import { matchesWaiting, openLog, readLog } from "../../store/log";
import { pull, push } from "../../sync/push";
import { engine } from "../ask";
import { lookAhead } from "./ahead";
import { askAhead } from "./calls";
import { live, markOf, startOver } from "./live";
import { wakePrefs } from "./prefs";

const RETRY_MS = [1000, 2000, 4000, 5000]; // chosen
export const disk = openLog();

interface Kept { readonly answer: ReplayAnswer; readonly counted: string; readonly calls: Record<string, CallAnswer>; readonly detail: MatchDetail | null; readonly read: readonly string[] }
const keptAs = (id: string): string => `match/${id}`;

let failures = 0;
let retry: ReturnType<typeof setTimeout> | undefined;

/** Paints what was last shown, reads the log from the disk, then asks. */
export async function openMatch(id: string): Promise<void> {
  if (live.get().id === id) return;
  startOver(id);
  failures = 0;
  const [kept, rows] = await Promise.all([recall<Kept>(keptAs(id)), disk.then((db) => readLog<MatchEvent>(db, id)), wakePrefs()]);
  if (live.get().id !== id) return;
  live.set({ rows, ...(kept && { ...kept, counted: kept.counted }) });
  keepUp();
}

export const closeMatch = (): void => {
  clearTimeout(retry);
  startOver(null);
};

let running = false;
let wanted = false;

/** Brings state, calls and service up to date: one round at a time, one more when something happened meanwhile. */
export function keepUp(): void {
  wanted = true;
  if (!running) void rounds();
}

async function rounds(): Promise<void> {
  running = true;
  while (wanted) {
    wanted = false;
    await round();
  }
  running = false;
}

async function round(): Promise<void> {
  const { id } = live.get();
  if (!id) return;
  clearTimeout(retry);
  try {
    await count(id);
    if (wanted) return; // the newest tap first
    await exchange(id);
    failures = 0;
    if (!wanted) await lookAhead();
  } catch (problem) {
    failed(id, problem);
  }
}

/** Has the log counted, where it is not yet. */
async function count(id: string): Promise<void> {
  const { rows, counted } = live.get();
  const mark = markOf(rows);
  if (rows.length > 0 && (counted !== mark || !live.get().confirmed || live.get().foreseen)) {
    const answer = await engine.replay(rows.map(({ event }) => event));
    if (live.get().id !== id) return;
    live.set({ answer, counted: mark, confirmed: true, foreseen: false, gone: false, refused: null });
  }
  if (!wanted) await askAhead();
  void keepLast(id);
}

/** Sends and fetches; what others logged is counted in another round. */
async function exchange(id: string): Promise<void> {
  const db = await disk;
  const before = markOf(live.get().rows);
  await push(db, id);
  const known = Math.max(0, ...live.get().rows.map(({ position }) => position), ...(await readLog<MatchEvent>(db, id)).map(({ position }) => position));
  await pull(db, id, known);
  if (live.get().id !== id) return;
  const rows = await readLog<MatchEvent>(db, id);
  if (markOf(live.get().rows) === before) live.set({ rows, gone: false });
  else live.set({ gone: false }); // a tap came meanwhile: its round reads the disk again
  if (markOf(rows) !== live.get().counted) wanted = true;
  const [detail, review] = await Promise.all([live.get().detail ?? showMatch(id), getReview(id, null)]);
  if (live.get().id === id) live.set({ detail, review });
  void keepLast(id);
}

function failed(id: string, problem: unknown): void {
  if (live.get().id !== id) return;
  if (problem instanceof Refused) {
    live.set({ refused: problem, missing: problem.status === 404 || problem.status === 410 });
    return;
  }
  live.set({ gone: true });
  retry = setTimeout(keepUp, RETRY_MS[Math.min(failures, RETRY_MS.length - 1)]);
  failures += 1;
}

async function keepLast(id: string, read = live.get().read): Promise<void> {
  const { answer, counted, calls, detail } = live.get();
  if (answer) await keep(keptAs(id), { answer, counted, calls: { ...calls }, detail, read } satisfies Kept);
}

/** Notes stay read: kept first, then gone from the screen. */
export async function markRead(notes: readonly string[]): Promise<void> {
  const { id } = live.get();
  const read = [...new Set([...live.get().read, ...notes])];
  if (id) await keepLast(id, read);
  if (live.get().id === id) live.set({ read });
}

/** Goes on as soon as the network or the reader is back; also with matches that are not on the screen. */
export function followWhenBack(): void {
  addEventListener("online", keepUp);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") keepUp();
  });
}

/** Sends what other matches still have to send; failures wait for the next time. */
export async function sendTheRest(): Promise<void> {
  const db = await disk;
  for (const id of await matchesWaiting(db)) {
    if (id !== live.get().id) await push(db, id).catch(() => undefined);
  }
}
