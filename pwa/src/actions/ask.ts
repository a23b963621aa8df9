/** Puts the present question to the engine: one request at a time, always the newest, again by itself when nobody answers. */
import { Refused } from "../api/problem";
import { engine } from "../engine/choice";
import { alike, asksSomething, requestOf } from "./question";
import { state } from "./state";

const BETWEEN_MS = 60; // chosen: at most some fifteen requests a second while something is dragged
const NOTICEABLE_MS = 300; // chosen: quicker answers need no sign of waiting
const RETRY_MS = [1000, 2000, 4000, 8000]; // chosen

let asking = false;
let wanted = false;
let failures = 0;
let stockIsFresh = false; // a kept one is shown meanwhile, and replaced
let retry: ReturnType<typeof setTimeout> | undefined;

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Asks; while an answer is on its way, only the newest question is asked next. */
export function ask(): void {
  wanted = true;
  if (!asking) void askWhileWanted();
}

async function askWhileWanted(): Promise<void> {
  asking = true;
  while (wanted) {
    wanted = false;
    await askOnce();
    if (wanted) await pause(BETWEEN_MS);
  }
  asking = false;
}

async function askOnce(): Promise<void> {
  const slow = setTimeout(() => state.set({ waiting: true }), NOTICEABLE_MS);
  clearTimeout(retry);
  try {
    await freshenStock();
    wanted = false; // the question read next is the newest
    const { question } = state.get();
    if (asksSomething(question)) {
      const answer = await engine.call(requestOf(question));
      if (alike(question, state.get().question)) state.set({ answer, answered: question, remembered: false, refused: null });
    }
    failures = 0;
    state.set({ gone: false });
  } catch (problem) {
    failed(problem);
  } finally {
    clearTimeout(slow);
    state.set({ waiting: false });
  }
}

async function freshenStock(): Promise<void> {
  if (stockIsFresh) return;
  state.set({ stock: await engine.stock() });
  stockIsFresh = true;
}

function failed(problem: unknown): void {
  if (problem instanceof Refused) {
    state.set({ refused: problem, gone: false });
    return;
  }
  state.set({ gone: true });
  retry = setTimeout(ask, RETRY_MS[Math.min(failures, RETRY_MS.length - 1)]);
  failures += 1;
}

/** Asks again as soon as the network or the reader is back. */
export function askWhenBack(): void {
  addEventListener("online", ask);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible" && state.get().gone) ask();
  });
}

export { engine };
