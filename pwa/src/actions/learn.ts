/** Learning to see a rotation: find the setter, choose a spot and a target, see what the serve is worth. */
import { Refused } from "../api/problem";
import { SPOT_NAMES, type Call, type CallAnswer, type CallRequest, type Point, type Position, type SpotName } from "../api/types";
import { createStore } from "../store/store";
import type { OpponentProfile } from "../api/opponents";
import { engine } from "./ask";
import { requestOf } from "./question";
import { state } from "./state";

/** Their six rotations in the order in which they come: who sets goes from 1 to 6, to 5, and on. */
export const ROTATIONS: readonly Position[] = [1, 6, 5, 4, 3, 2];
export const AS_GOOD = 1; // points in 100 under which two serves are as good as each other
export const CLOSE = 3; // chosen: more than this behind the best comes back

export type Step = "start" | "find" | "spot" | "target" | "seen" | "end";

export interface Lesson {
  readonly step: Step;
  /** Whose formations are taught; null: the stock ones. */
  readonly opponent: OpponentProfile | null;
  /** What is still to come, the present rotation first. */
  readonly ahead: readonly Position[];
  /** Rotations that were not seen at once: each comes back until it is. */
  readonly missed: readonly Position[];
  readonly done: readonly Position[];
  /** The engine's answer for the present rotation. */
  readonly answer: CallAnswer | null;
  /** Players who were taken for the setter in this rotation. */
  readonly wrong: readonly Position[];
  readonly spot: SpotName | null;
  readonly target: Point | null;
  /** The serve that was chosen. */
  readonly serve: Call | null;
  readonly tooFar: boolean;
  readonly gone: boolean;
}

export const USUAL_TARGET: Point = { x_m: 0, y_m: 6 };
const ROUND: Pick<Lesson, "answer" | "wrong" | "spot" | "target" | "serve" | "tooFar" | "gone"> = {
  answer: null, wrong: [], spot: null, target: null, serve: null, tooFar: false, gone: false,
};
export const lesson = createStore<Lesson>({ step: "start", opponent: null, ahead: ROTATIONS, missed: [], done: [], ...ROUND });

/** Returns the request for one rotation, as the first screen would put it, without a limit on misses; of an own opponent with what was entered of it. */
async function requestFor(setter: Position): Promise<CallRequest> {
  const { question } = state.get();
  const { opponent } = lesson.get();
  const request = { ...requestOf({ ...question, setter, spot: null, spots: SPOT_NAMES, ceiling: null }), policy: {} };
  if (!opponent) return request;
  const bare = { ...request, opponent: { setter_position: setter } };
  return { ...(await engine.prepared({ request: bare, opponent, player: null, kind: question.kind })), policy: {} };
}

/** Opens the lesson on an own opponent; null: on the stock formations. */
export const teach = (opponent: OpponentProfile | null): void => lesson.set({ step: "start", opponent, ahead: ROTATIONS, missed: [], done: [], ...ROUND });

export function begin(): void {
  lesson.set({ step: "find", ahead: ROTATIONS, missed: [], done: [], ...ROUND });
  void fetchRound();
}

/** Asks for the present rotation; a failure is shown, and asked again by hand. */
export async function fetchRound(): Promise<void> {
  const [setter] = lesson.get().ahead;
  if (setter === undefined) return;
  lesson.set({ gone: false });
  try {
    const answer = await engine.call(await requestFor(setter));
    if (lesson.get().ahead[0] === setter) lesson.set({ answer });
  } catch {
    lesson.set({ gone: true });
  }
}

export function find(position: Position): void {
  const { ahead, wrong } = lesson.get();
  if (position === ahead[0]) lesson.set({ step: "spot" });
  else lesson.set({ wrong: [...wrong.filter((p) => p !== position), position] });
}

export const pickSpot = (spot: SpotName): void => lesson.set({ spot, step: "target", target: lesson.get().target ?? USUAL_TARGET, tooFar: false });
export const aimAt = (target: Point): void => lesson.set({ target, tooFar: false });

/** Serves: asks what the chosen serve is worth. */
export async function serveIt(): Promise<void> {
  const { ahead: [setter], spot, target } = lesson.get();
  if (setter === undefined || spot === null || target === null) return;
  lesson.set({ gone: false });
  try {
    const request = await requestFor(setter);
    const { serve } = await engine.aimed({ ...request, server: { ...request.server, spots: [spot] }, target });
    if (lesson.get().ahead[0] === setter) lesson.set({ serve, step: "seen" });
  } catch (problem) {
    lesson.set(problem instanceof Refused ? { tooFar: true } : { gone: true });
  }
}

export const tryAgain = (): void => lesson.set({ step: "spot", serve: null, tooFar: false });

/** Returns how far the chosen serve is behind the best one, in points in 100. */
export const behind = ({ serve, answer }: Lesson): number => (serve && answer ? Math.max(0, 100 * (answer.best.keep - serve.keep)) : 0);

/** Whether the setter was found at once and the serve was good enough. */
export const seenAtOnce = (now: Lesson): boolean => now.wrong.length === 0 && behind(now) <= CLOSE;

/** Goes on to the next rotation; what was not seen at once is put at the end. */
export function next(): void {
  const now = lesson.get();
  const [present, ...rest] = now.ahead;
  if (present === undefined) return;
  const good = seenAtOnce(now);
  const ahead = good ? rest : [...rest, present];
  lesson.set({
    ...ROUND, ahead, step: ahead.length > 0 ? "find" : "end",
    done: good ? [...now.done, present] : now.done,
    missed: good || now.missed.includes(present) ? now.missed : [...now.missed, present],
  });
  void fetchRound();
}
