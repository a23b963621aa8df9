/** Puts the present question to the engine: one request at a time, always the newest, again by itself when nobody answers. */
import { Refused } from "../api/problem";
import { engine, home } from "../engine/choice";
import { keepPrepared, prepare, prepared } from "./prepared";
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
  void prepareWhileIdle();
}

let preparing = false;

/** Works out what may be asked next, one at a time: a question that comes meanwhile waits for one call at most. */
async function prepareWhileIdle(): Promise<void> {
  if (preparing) return;
  preparing = true;
  await prepare(state.get().question, () => asking || wanted).catch(() => undefined); // then it is asked when it is wanted
  preparing = false;
}

async function askOnce(): Promise<void> {
  const slow = setTimeout(() => state.set({ waiting: true }), NOTICEABLE_MS);
  clearTimeout(retry);
  try {
    await freshenStock();
    wanted = false; // the question read next is the newest
    const { question } = state.get();
    if (asksSomething(question)) {
      const request = requestOf(question);
      const answer = prepared(request) ?? (await engine.call(request));
      keepPrepared(request, answer);
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

/** Asks again as soon as the network or the reader is back; works ahead as soon as this device can. */
export function askWhenBack(): void {
  home.watch(() => void (home.get().home === "device" && !asking && prepareWhileIdle()));
  addEventListener("online", ask);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible" && state.get().gone) ask();
  });
}

export { engine };
