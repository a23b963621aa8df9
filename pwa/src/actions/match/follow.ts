/** Opens a match and keeps up with it: from the disk at once, then the engine's answer. The service is talked to beside it. */
import { Refused } from "../../api/problem";
import type { MatchDetail, MatchEvent, ReplayAnswer } from "../../api/match";
import type { CallAnswer } from "../../api/types";
import { keep, recall } from "../../store/kept";
import { matchKnown, noteMatch, readLog, refusedRows } from "../../store/log";
import { askForPen, hearTabs, type Pen } from "../../sync/tabs";
import { engine } from "../ask";
import { kept as prepared, wakeOpponents } from "../opponents/kept";
import { bringNamed } from "../opponents/list";
import { refreshRoster, roster, wakeRoster } from "../team/roster";
import { lookAhead } from "./ahead";
import { askAhead } from "./calls";
import { disk, reread, thisDevice } from "./disk";
import { asKnown, exchangeNow, exchangeWhenBack } from "./exchange";
import { live, markOf, startOver } from "./live";
import { prefs, wakePrefs } from "./prefs";
import { summaryOf } from "./summary";

export { disk } from "./disk";

const RETRY_MS = [1000, 2000, 4000, 5000]; // chosen
const PEN_MS = 300; // chosen: a page that is left needs a moment to let go

interface Kept { readonly answer: ReplayAnswer; readonly counted: string; readonly calls: Record<string, CallAnswer>; readonly detail: MatchDetail | null; readonly read: readonly string[] }
const keptAs = (id: string): string => `match/${id}`;

let failures = 0;
let retry: ReturnType<typeof setTimeout> | undefined;
let pen: Pen | undefined;

/** Paints what was last shown, reads the log from the disk, then asks. */
export async function openMatch(id: string): Promise<void> {
  if (live.get().id === id) return;
  startOver(id);
  brought = "";
  failures = 0;
  try {
    const db = await disk;
    const [kept, rows, turnedDown, known, device] = await Promise.all([recall<Kept>(keptAs(id)), readLog<MatchEvent>(db, id), refusedRows<MatchEvent>(db, id), matchKnown(db, id), thisDevice(), wakePrefs(), wakeRoster(), wakeOpponents()]);
    if (live.get().id !== id) return;
    live.set({ rows, turnedDown, device, ...kept, contact: { ...live.get().contact, ...asKnown(known) } });
    holdPen(id);
  } catch {
    live.set({ unsaved: true }); // no disk at all: what can be shown is shown, and nothing is promised
  }
  keepUp();
  exchangeNow();
  void refreshRoster();
}

export const closeMatch = (): void => {
  clearTimeout(retry);
  pen?.drop();
  pen = undefined;
  startOver(null);
};

/** This tab logs unless another one does already. */
function holdPen(id: string): void {
  let has = false;
  pen?.drop();
  pen = askForPen(id, (held) => {
    has = held;
    const show = (): void => void (live.get().id === id && live.get().following === has && live.set({ following: !has }));
    if (held) show();
    else setTimeout(show, PEN_MS);
  });
}

/** From now on this tab logs, and the other one follows. */
export const takePen = (): void => pen?.take();

let running = false;
let wanted = false;

/** Brings state and calls up to date: one round at a time, one more when something happened meanwhile. */
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
    if (!wanted) await lookAhead(); // else the newest tap first
    if (!wanted) await review(id);
    failures = 0;
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
    void keepSummary(id, answer, mark);
  }
  void bringTheirs();
  if (!wanted) await askAhead();
  void keepLast(id);
}

let brought = "";

/** Has the opponent of the match on this device, once for each match that is opened: another phone may have entered it. */
async function bringTheirs(): Promise<void> {
  const { id, answer } = live.get();
  const them = answer?.state.teams.them;
  const whose = `${id}/${them}`;
  if (!them || brought === whose) return;
  brought = whose;
  if (!(await bringNamed(them)) && brought === whose) brought = "";
}

let reviewed = "";

/** Has our serves counted, once the calls are there. */
async function review(id: string): Promise<void> {
  const { rows, counted } = live.get();
  if (rows.length === 0 || (reviewed === `${id}/${counted}` && live.get().review)) return;
  const found = await engine.review(rows.map(({ event }) => event), "us", null);
  if (live.get().id !== id) return;
  reviewed = `${id}/${counted}`;
  live.set({ review: found });
}

const keepSummary = (id: string, answer: ReplayAnswer, counted: string): Promise<void> =>
  disk.then((db) => noteMatch(db, id, { summary: summaryOf(answer), counted })).catch(() => undefined); // only for the list

function failed(id: string, problem: unknown): void {
  if (live.get().id !== id) return;
  if (problem instanceof Refused) return live.set({ refused: problem });
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

/** Goes on as soon as the network or the reader is back, and counts whatever changes the log: this tab, another one, another device. */
export function followWhenBack(): void {
  let rows = live.get().rows;
  live.watch(() => {
    if (rows === live.get().rows) return;
    rows = live.get().rows;
    if (markOf(rows) !== live.get().counted) keepUp();
  });
  let { teams } = roster.get();
  roster.watch(() => {
    if (teams === roster.get().teams) return;
    ({ teams } = roster.get());
    keepUp();
  });
  let { opponents } = prepared.get();
  prepared.watch(() => {
    if (opponents === prepared.get().opponents) return;
    ({ opponents } = prepared.get());
    keepUp();
  });
  prefs.watch(keepUp); // another ceiling, or another serve of hers, is another call
  addEventListener("online", keepUp);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void lookAgain();
  });
  hearTabs((match) => void (match === live.get().id && lookAgain()));
  exchangeWhenBack();
}

/** Reads the disk again: another tab may have written. */
async function lookAgain(): Promise<void> {
  const { id } = live.get();
  if (id) await reread(id).catch(() => undefined);
  keepUp();
}
