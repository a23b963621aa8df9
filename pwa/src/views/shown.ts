import type { State } from "../actions/state";
import { alike } from "../actions/question";
import type { Call } from "../api/types";

/** Returns the call on show: the best, or the alternative that was picked. */
export function shownCall({ answer, chosen }: State): Call | null {
  if (!answer) return null;
  return chosen === 0 ? answer.best : (answer.alternatives[chosen - 1] ?? answer.best);
}

/** Whether what is on show may be out of date; a quick answer on its way is no reason to grey. */
export const stale = ({ answered, question, gone, refused, waiting }: Pick<State, "answered" | "question" | "gone" | "refused" | "waiting">): boolean =>
  gone || refused !== null || (waiting && answered !== null && !alike(answered, question));

/** Returns what stands where the call would be while there is none. */
export const noCallYet = ({ refused, gone }: Pick<State, "refused" | "gone">): string => (refused || gone ? "No call yet" : "Working out the call…");
