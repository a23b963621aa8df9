/** Learning to see a rotation: find the setter, choose a spot and a target, see what the serve is worth. */
import { SPOT_NAMES, type Call, type CallAnswer, type CallRequest, type Point, type Position, type SpotName } from "../api/types";
import { createStore } from "../store/store";
import type { OpponentProfile } from "../api/opponents";
import { engine } from "./ask";
import { putBack, served } from "./reach";
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
  /** The first that was chosen in this rotation: it decides whether the rotation comes back; another is for trying out. */
  readonly first: Call | null;
  readonly waiting: boolean;
  /** What was aimed at is out of reach; the mark was put to the last place that is not, if there is one. */
  readonly beyond: "put_back" | "nowhere" | null;
  readonly gone: boolean;
  /** The engine's answers so far, for the look back at the end. */
  readonly answers: Partial<Record<Position, CallAnswer>>;
}

export const USUAL_TARGET: Point = { x_m: 0, y_m: 6 };
const ROUND: Pick<Lesson, "answer" | "wrong" | "spot" | "target" | "serve" | "first" | "waiting" | "beyond" | "gone"> = {
  answer: null, wrong: [], spot: null, target: null, serve: null, first: null, waiting: false, beyond: null, gone: false,
};
const FRESH = { ahead: ROTATIONS, missed: [], done: [], answers: {}, ...ROUND };
export const lesson = createStore<Lesson>({ step: "start", opponent: null, ...FRESH });

/** Returns the request for one rotation, as the first screen would put it, without a limit on misses; of an own opponent with what was entered of it. */
async function requestFor(setter: Position): Promise<CallRequest> {
  const { question } = state.get();
  const { opponent } = lesson.get();
  const request = { ...requestOf({ ...question, setter, spot: null, spots: SPOT_NAMES, ceiling: null }), policy: {} };
  if (!opponent) return request;
  const bare = { ...request, opponent: { setter_position: setter } };
  return { ...(await engine.prepared({ request: bare, opponent, player: null, kind: question.kind })), policy: {} };
}

const coming = new Map<Position, Promise<CallAnswer>>();

/** Returns the answer for a rotation, asked once. */
function answerFor(setter: Position): Promise<CallAnswer> {
  const before = coming.get(setter);
  if (before) return before;
  const answer = requestFor(setter).then((request) => engine.call(request));
  coming.set(setter, answer);
  answer.catch(() => coming.delete(setter));
  return answer;
}

/** Opens the lesson on an own opponent; null: on the stock formations. */
export const teach = (opponent: OpponentProfile | null): void => lesson.set({ step: "start", opponent, ...FRESH });

export function begin(): void {
  coming.clear();
  lesson.set({ step: "find", ...FRESH });
  void fetchRound();
}

/** Asks for the present rotation, and ahead of time for the next; a failure is shown, and asked again by hand. */
export async function fetchRound(): Promise<void> {
  const [setter, after] = lesson.get().ahead;
  if (setter === undefined) return;
  lesson.set({ gone: false });
  try {
    const answer = await answerFor(setter);
    const { ahead, answers } = lesson.get();
    if (ahead[0] === setter) lesson.set({ answer, answers: { ...answers, [setter]: answer } });
    if (after !== undefined) answerFor(after).catch(() => undefined); // then it is asked when its turn comes
  } catch {
    lesson.set({ gone: true });
  }
}

export function find(position: Position): void {
  const { ahead, wrong } = lesson.get();
  if (position === ahead[0]) lesson.set({ step: "spot" });
  else lesson.set({ wrong: [...wrong.filter((p) => p !== position), position] });
}

export const pickSpot = (spot: SpotName): void => lesson.set({ spot, step: "target", target: lesson.get().target ?? USUAL_TARGET, beyond: null });
export const aimAt = (target: Point): void => lesson.set({ target, beyond: null });

/** Serves: asks what the chosen serve is worth. What is out of reach is put back to where the ball still gets. */
export async function serveIt(): Promise<void> {
  const { ahead: [setter], answer, spot, target, waiting } = lesson.get();
  if (setter === undefined || !answer || spot === null || target === null || waiting) return;
  lesson.set({ gone: false, waiting: true });
  const now = (): boolean => lesson.get().ahead[0] === setter;
  try {
    const whole = await requestFor(setter);
    const request = { ...whole, server: { ...whole.server, spots: [spot] } };
    const serve = await served(request, target);
    if (now() && serve) lesson.set({ serve, step: "seen", first: lesson.get().first ?? serve });
    else if (now()) {
      const server = answer.situation.server.spots.find(({ name }) => name === spot) ?? answer.best.spot;
      const back = await putBack(request, server, target, answer.best.target);
      lesson.set(back ? { beyond: "put_back", target: back } : { beyond: "nowhere" });
    }
  } catch {
    if (now()) lesson.set({ gone: true });
  } finally {
    if (now()) lesson.set({ waiting: false });
  }
}

export const tryAgain = (): void => lesson.set({ step: "spot", serve: null, beyond: null });

/** Returns how far the chosen serve is behind the best one, in points in 100. */
export const behind = ({ serve, answer }: Pick<Lesson, "serve" | "answer">): number => (serve && answer ? Math.max(0, 100 * (answer.best.keep - serve.keep)) : 0);

/** Whether the setter was found at once and the first serve was good enough. */
export const seenAtOnce = ({ wrong, first, answer }: Lesson): boolean => wrong.length === 0 && behind({ serve: first, answer }) <= CLOSE;

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
