/** The engine on this device, over its worker: one question at a time, the most urgent first. */
import { Refused, type FieldFault } from "../api/problem";
import { bookRequest } from "../api/opponents";
import type { Engine } from "./engine";

type Door = keyof Engine;

/** What the worker is asked, and what it says: that it is awake or why not, and an answer, a refusal or a fault of its own. */
export interface Asked { readonly id: number; readonly door: Door; readonly request: unknown }
export type Said =
  | { readonly awake: true }
  | { readonly awake: false; readonly why: string }
  | { readonly id: number; readonly answer: unknown }
  | { readonly id: number; readonly refused: FieldFault }
  | { readonly id: number; readonly failed: string };

/** The engine on this device went wrong, or never started: the question is as good as before. */
export class Failed extends Error {
  override readonly name = "Failed";
}

/** The part of a Worker that is used. */
export interface Speaker {
  postMessage(asked: Asked): void;
  terminate(): void;
  onmessage: ((message: MessageEvent<Said>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
}

export interface Device {
  readonly engine: Engine;
  /** Settles when the engine is up; never, when it cannot be. */
  readonly awake: Promise<void>;
  /** Settles with the reason when the engine could not start, or has stopped: whatever it was asked fails with Failed. */
  readonly lost: Promise<string>;
}

const URGENCY: readonly Door[] = ["replay", "stock", "prepared", "formation", "review", "serves", "aimed", "call", "chosen", "book"]; // where it stands, before what to do about it
const BROKEN_RULE = 422;
const PATIENCE_MS = 60_000; // chosen: a slow phone on a slow network

interface Waiting extends Asked { readonly settle: (said: Said) => void }

/** Returns which of those waiting comes next: the most urgent; of calls the newest, else the oldest. */
export function nextOf<T extends Pick<Asked, "door">>(waiting: readonly T[]): T | undefined {
  const most = URGENCY.find((door) => waiting.some((one) => one.door === door));
  const those = waiting.filter(({ door }) => door === most);
  return most === "call" || most === "chosen" ? those.at(-1) : those[0];
}

/** Returns the engine that speaks through a worker. */
export function deviceOver(start: () => Speaker): Device {
  let waiting: readonly Waiting[] = [];
  let asked: Waiting | undefined;
  let last = 0;
  let up = false;
  let ended: string | undefined;
  let wake: () => void;
  let lose: (why: string) => void;
  const awake = new Promise<void>((resolve) => (wake = resolve));
  const lost = new Promise<string>((resolve) => (lose = resolve));

  const worker = start();
  const patience = setTimeout(() => end("it did not start within a minute"), PATIENCE_MS);
  worker.onmessage = ({ data }) => {
    if ("awake" in data) {
      if (!data.awake) return end(data.why);
      up = true;
      clearTimeout(patience);
      wake();
    } else if (data.id === asked?.id) {
      const { settle } = asked;
      asked = undefined;
      settle(data);
    }
    askNext();
  };
  worker.onerror = (event) => end(event.message || "the worker stopped");

  function end(why: string): void {
    ended = why;
    clearTimeout(patience);
    worker.terminate();
    lose(why);
    for (const { id, settle } of asked ? [asked, ...waiting] : waiting) settle({ id, failed: why });
    asked = undefined;
    waiting = [];
  }

  function askNext(): void {
    if (!up || asked) return;
    asked = nextOf(waiting);
    if (!asked) return;
    waiting = waiting.filter((one) => one !== asked);
    const { id, door, request } = asked;
    worker.postMessage({ id, door, request });
  }

  function ask(door: Door, request: unknown): Promise<unknown> {
    return new Promise((resolve, reject) => {
      const settle = (said: Said): void => {
        if ("answer" in said) resolve(said.answer);
        else if ("refused" in said) reject(new Refused(BROKEN_RULE, "A rule is broken", [said.refused]));
        else reject(new Failed("failed" in said ? said.failed : "no answer"));
      };
      if (ended !== undefined) return settle({ id: 0, failed: ended });
      last += 1;
      waiting = [...waiting, { id: last, door, request, settle }];
      askNext();
    });
  }

  const engine = {
    call: (request) => ask("call", request),
    prepared: (asked) => ask("prepared", asked),
    chosen: (asked) => ask("chosen", asked),
    aimed: (request) => ask("aimed", request),
    replay: (events) => ask("replay", { events }),
    review: (events, side, set_number) => ask("review", { events, side, set_number }),
    serves: (events, name) => ask("serves", { events, name }),
    formation: (asked) => ask("formation", asked),
    book: (asked) => ask("book", bookRequest(asked)).then((made) => ({ team: asked.team, opponent: asked.opponent, ...(made as object) })) as Promise<unknown>,
    stock: () => ask("stock", {}),
  } satisfies { readonly [door in Door]: (...args: Parameters<Engine[door]>) => Promise<unknown> };
  return { engine: engine as { readonly [door in Door]: (...args: never[]) => Promise<unknown> } as Engine, awake, lost };
}

/** Returns the engine in a worker of this browser, null where there is none. */
export function startDevice(): Device | null {
  if (typeof Worker === "undefined" || typeof WebAssembly === "undefined") return null;
  return deviceOver(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }));
}
