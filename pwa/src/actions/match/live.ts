/** The match on the screen: its log on this device, what the engine last said of it, and what is known beside it. */
import type { CallAnswer } from "../../api/types";
import type { MatchDetail, MatchEvent, ReplayAnswer, Review } from "../../api/match";
import type { Refused } from "../../api/problem";
import { createStore } from "../../store/store";
import type { Row } from "../../store/log";
import type { Moment } from "./age";

/** How the exchange with the service goes, apart from what the engine says. */
export interface Contact {
  /**
   * away: nothing came back; later: it answered and wants to be asked later; signed_out: nobody is signed in here; revoked: this device was
   * signed in once; stays: it is to stay on this device; not_allowed: who is signed in may not; missing: it has no such match; full: no room here.
   */
  readonly trouble: "" | "away" | "later" | "signed_out" | "revoked" | "stays" | "not_allowed" | "missing" | "full";
  /** The status of an answer that was no success, 0 without one. */
  readonly status: number;
  /** When everything was last exchanged. */
  readonly heard: Moment | null;
  /** When the service was found to have lost some of it, which was sent again; by this device's clock. [ms] */
  readonly lost_ms: number | null;
}

export interface Live {
  readonly id: string | null;
  /** The name of this device in the log. */
  readonly device: string;
  readonly detail: MatchDetail | null;
  readonly rows: readonly Row<MatchEvent>[];
  readonly answer: ReplayAnswer | null;
  /** The mark of the rows that the answer counted. */
  readonly counted: string;
  /** The engine has answered since the match was opened: nothing on the screen is from last time. */
  readonly confirmed: boolean;
  /** The state was foreseen for this tap; the engine still counts the tap itself. */
  readonly foreseen: boolean;
  /** Calls by their request, newest last. */
  readonly calls: Readonly<Record<string, CallAnswer>>;
  /** Which of the call's options the coach picked, and for which serve. */
  readonly pick: { readonly serve: string; readonly index: number } | null;
  readonly review: Review | null;
  /** Nobody counts: neither this device nor the service. */
  readonly gone: boolean;
  readonly contact: Contact;
  /** What the service refused. */
  readonly turnedDown: readonly Row<MatchEvent>[];
  /** Another tab of this device logs; this one follows. */
  readonly following: boolean;
  readonly missing: boolean;
  /** The last tap could not be written to the disk. */
  readonly unsaved: boolean;
  readonly refused: Refused | null;
  /** What the last undo took back, until the next tap. */
  readonly undone: string | null;
  /** Notes that were read. */
  readonly read: readonly string[];
}

const NOTHING: Live = {
  id: null, device: "", detail: null, rows: [], answer: null, counted: "", confirmed: false, foreseen: false, calls: {}, pick: null, review: null,
  gone: false, contact: { trouble: "", status: 0, heard: null, lost_ms: null }, turnedDown: [], following: false, missing: false, unsaved: false, refused: null, undone: null, read: [],
};

export const live = createStore<Live>(NOTHING);
export const startOver = (id: string | null): void => live.set({ ...NOTHING, id });

const marks = new WeakMap<Live["rows"], string>();

/** Returns a mark that changes with the log: when something is added, falls out or comes to stand elsewhere. */
export function markOf(rows: Live["rows"]): string {
  const known = marks.get(rows);
  if (known !== undefined) return known;
  let order = 5381; // of the events, as one number (djb2)
  for (const { id } of rows) for (let i = 0; i < id.length; i += 1) order = (order * 33 + id.charCodeAt(i)) | 0;
  const mark = `${rows.length}.${order >>> 0}:${rows.at(-1)?.id ?? ""}`;
  marks.set(rows, mark);
  return mark;
}

/** Whether the state on the screen counts everything that was logged here. */
export const isFresh = ({ rows, counted }: Live): boolean => markOf(rows) === counted;

/** Returns the rows that the state on the screen counts. */
export const countedRows = ({ rows, counted }: Live): Live["rows"] =>
  rows.slice(0, rows.findLastIndex(({ id }) => id === counted.slice(counted.indexOf(":") + 1)) + 1);

export const waitingToBeSent = ({ rows }: Live): number => rows.filter(({ position }) => position === 0).length;

/** Returns how many rows the state on the screen does not count. */
export const uncounted = (now: Live): number => now.rows.length - countedRows(now).length;
