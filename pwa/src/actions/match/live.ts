/** The match on the screen: its log on this device, what the engine last said of it, and what is known beside it. */
import type { CallAnswer } from "../../api/types";
import type { MatchDetail, MatchEvent, ReplayAnswer, Review } from "../../api/match";
import type { Refused } from "../../api/problem";
import { createStore } from "../../store/store";
import type { Row } from "../../store/log";

export interface Live {
  readonly id: string | null;
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
  readonly gone: boolean;
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
  id: null, detail: null, rows: [], answer: null, counted: "", confirmed: false, foreseen: false, calls: {}, pick: null, review: null,
  gone: false, missing: false, unsaved: false, refused: null, undone: null, read: [],
};

export const live = createStore<Live>(NOTHING);
export const startOver = (id: string | null): void => live.set({ ...NOTHING, id });

/** Returns a mark that changes with the log. */
export const markOf = (rows: Live["rows"]): string => `${rows.length}:${rows.at(-1)?.id ?? ""}`;

/** Whether the state on the screen counts everything that was logged here. */
export const isFresh = ({ rows, counted }: Live): boolean => markOf(rows) === counted;

/** Returns the rows that the state on the screen counts. */
export const countedRows = ({ rows, counted }: Live): Live["rows"] =>
  rows.slice(0, rows.findLastIndex(({ id }) => id === counted.slice(counted.indexOf(":") + 1)) + 1);

export const waitingToBeSent = ({ rows }: Live): number => rows.filter(({ position }) => position === 0).length;

/** Returns how many rows the state on the screen does not count. */
export const uncounted = (now: Live): number => now.rows.length - countedRows(now).length;
