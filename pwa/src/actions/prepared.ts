/** Calls worked out ahead on this device, while nobody waits for one: the setter's other positions, which come next. */
import { POSITIONS, type CallAnswer, type CallRequest } from "../api/types";
import { engine, home } from "../engine/choice";
import { requestOf, type Question } from "./question";

const IDLE_MS = 300; // chosen: a finger that drags, or goes on to the next button, is not in its way
const MOST_KEPT = 48; // chosen: eight servers or levels with six positions each

const kept = new Map<string, CallAnswer>();

/** Returns the answer to exactly this request, if it was worked out before. */
export const prepared = (request: CallRequest): CallAnswer | undefined => kept.get(JSON.stringify(request));

export function keepPrepared(request: CallRequest, answer: CallAnswer): void {
  kept.delete(JSON.stringify(request));
  kept.set(JSON.stringify(request), answer);
  for (const oldest of [...kept.keys()].slice(0, -MOST_KEPT)) kept.delete(oldest);
}

/** Works out the call for each position of their setter, until something else is wanted. Never asks a server for it. */
export async function prepare(question: Question, wanted: () => boolean): Promise<void> {
  for (const setter of POSITIONS) {
    await new Promise((resolve) => setTimeout(resolve, IDLE_MS));
    if (wanted() || home.get().home !== "device") return;
    const request = requestOf({ ...question, setter });
    if (!prepared(request)) keepPrepared(request, await engine.call(request));
  }
}
