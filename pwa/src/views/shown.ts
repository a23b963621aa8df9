import type { State } from "../actions/state";
import { alike } from "../actions/question";
import type { Call } from "../api/types";

/** Returns the call on show: the best, or the alternative that was picked. */
export function shownCall({ answer, chosen }: State): Call | null {
  if (!answer) return null;
  return chosen === 0 ? answer.best : (answer.alternatives[chosen - 1] ?? answer.best);
}

/** Whether what is on show does not answer the present question, or may be out of date. */
export const stale = ({ answered, question, gone, refused }: State): boolean =>
  gone || refused !== null || (answered !== null && !alike(answered, question));
