/** How a request about opponents went, for the screen. */
import { Refused, type FieldFault } from "../../api/problem";

/** waiting: no answer yet. gone: nobody answers, what is kept here is shown. out: nobody is signed in. missing: it is not there. */
export type Standing = "waiting" | "there" | "gone" | "out" | "missing";

const SIGNED_OUT = 401;

export function standingAfter(problem: unknown): Standing {
  if (!(problem instanceof Refused)) return "gone";
  return problem.status === SIGNED_OUT ? "out" : "missing";
}

/** Why something was not saved; `faults` name the fields. */
export interface Unsaved { readonly text: string; readonly faults: readonly FieldFault[] }

/** Returns why something was not done, in words. What was entered stays on the screen. */
export function unsaved(problem: unknown, what: string): Unsaved {
  if (!(problem instanceof Refused)) return { text: `${what}: the server cannot be reached. It stays on this device; try again when the network is back.`, faults: [] };
  if (problem.status === SIGNED_OUT) return { text: `${what}: sign in first. It stays on this device.`, faults: [] };
  return { text: problem.faults.length > 0 ? `${what}.` : `${what}: ${problem.message}.`, faults: problem.faults };
}
