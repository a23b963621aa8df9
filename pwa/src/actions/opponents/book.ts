/** The call book of one opponent: six rotations, asked for one by one so that the first is there at once. */
import type { Side } from "../../api/match";
import { showOpponent, type Book, type BookAsked, type OpponentProfile } from "../../api/opponents";
import { Refused } from "../../api/problem";
import type { TeamDetail } from "../../api/roster";
import { createStore } from "../../store/store";
import { engine } from "../ask";
import { refreshRoster, roster } from "../team/roster";
import { alsoForget, keepOpponent, opponentById, wakeOpponents } from "./kept";
import { standingAfter, type Standing } from "./standing";

export const TURNS = [1, 2, 3, 4, 5, 6] as const;
type Lineup = readonly (number | null)[];

export interface BookShown {
  readonly opponent: OpponentProfile | null;
  readonly teams: readonly TeamDetail[];
  readonly team: TeamDetail | null;
  readonly serving_first: Side | null;
  /** Ours, where it is not the team's usual one. */
  readonly lineup: Lineup | null;
  /** What has come so far, by turn. */
  readonly turns: Readonly<Record<number, Book>>;
  /** The turn that a phone shows. */
  readonly turn: number;
  readonly standing: Standing | "no_team" | "refused";
  readonly refused: Refused | null;
}

const START: BookShown = { opponent: null, teams: [], team: null, serving_first: null, lineup: null, turns: {}, turn: 1, standing: "waiting", refused: null };
export const book = createStore<BookShown>(START);
alsoForget(() => book.set(START));

const RETRY_MS = [1000, 3000]; // chosen: a server that starts, a network that comes back
let asked = 0; // what is filled in now; an older filling stops

/** Opens the book: opponent and team as the service has them, else as kept here. */
export async function openBook(id: string): Promise<void> {
  if (book.get().opponent?.id !== id) book.set({ ...START, serving_first: book.get().serving_first });
  await wakeOpponents();
  await refreshRoster();
  const { teams } = roster.get();
  try {
    const opponent = await freshOf(id);
    const first = teams.find((one) => one.id === book.get().team?.id) ?? teams[0];
    if (!opponent || !first) return book.set({ opponent, teams, standing: opponent && roster.get().state === "there" ? "no_team" : "gone" });
    book.set({ opponent, teams });
    await takeTeam(first);
  } catch (problem) {
    book.set({ standing: standingAfter(problem) });
  }
}

/** Returns the opponent as the service has it; as kept here, where it cannot be reached. Fails when it refuses. */
async function freshOf(id: string): Promise<OpponentProfile | null> {
  try {
    const opponent = await showOpponent(id);
    await keepOpponent(opponent);
    return opponent;
  } catch (problem) {
    if (problem instanceof Refused) throw problem;
    return opponentById(id);
  }
}

export async function takeTeam(team: TeamDetail): Promise<void> {
  book.set({ team, lineup: book.get().team?.id === team.id ? book.get().lineup : null });
  await fill();
}

/** Changes who serves first or the line-up, and fills the book anew; the turn that is shown comes first. */
export function choose(change: Partial<Pick<BookShown, "serving_first" | "lineup">>): void {
  book.set(change);
  if (book.get().team) void fill(); // else it is filled once the team is there
}

export const turnTo = (turn: number): void => book.set({ turn: ((turn + 5) % 6) + 1 });

let running: Promise<unknown> = Promise.resolve();

function alone<T>(question: Promise<T>): Promise<T> {
  running = question.catch(() => undefined);
  return question;
}

/** Asks for one rotation; again after a while when nobody answers, for as long as it is wanted. */
async function patiently(question: BookAsked, wanted: () => boolean): Promise<Book> {
  for (const pause_ms of RETRY_MS) {
    try {
      return await engine.book(question);
    } catch (problem) {
      if (problem instanceof Refused || !wanted()) throw problem;
      await new Promise((resolve) => setTimeout(resolve, pause_ms));
    }
  }
  return engine.book(question);
}

export async function fill(): Promise<void> {
  const { opponent, team, lineup, serving_first, turn } = book.get();
  if (!opponent || !team) return book.set({ standing: "gone" });
  asked += 1;
  const mine = asked;
  book.set({ turns: {}, standing: "waiting", refused: null });
  for (const next of [...TURNS.filter((one) => one >= turn), ...TURNS.filter((one) => one < turn)]) {
    try {
      await running; // one question at a time: two of them take each other's server
      if (mine !== asked) return;
      const made = await alone(patiently({ opponent, team, lineup, serving_first, turn: next }, () => mine === asked));
      if (mine !== asked) return;
      book.set({ turns: { ...book.get().turns, [next]: made } });
    } catch (problem) {
      if (mine === asked) book.set(problem instanceof Refused && problem.status === 422 ? { standing: "refused", refused: problem } : { standing: standingAfter(problem) });
      return;
    }
  }
  book.set({ standing: "there" });
}
