/**
 * The engine that the app uses: this device's as soon as it is up, before that whichever answers first, and the server's where the
 * device has none. A question is never lost on the way.
 */
import { Refused } from "../api/problem";
import { createStore, type Store } from "../store/store";
import { startDevice, type Device } from "./device";
import type { Engine } from "./engine";
import { remote } from "./remote";

export interface Home {
  /** Where answers come from: nowhere yet, this device, the server, or nowhere at all. */
  readonly home: "waking" | "device" | "server" | "none";
  /** What went wrong with the engine on this device. */
  readonly why?: string;
  /** How long it took to start. */
  readonly startedMs?: number;
}

export const MOST_STARTS = 3; // chosen: a phone that cannot is not worn out by trying

type Ask<T> = (engine: Engine) => Promise<T>;
export interface Chosen {
  readonly engine: Engine;
  /** Tries to start the device's engine again, if it is not there: the network is back. */
  again(): void;
}

/** Returns the engine that chooses. `start`: begins to start the device's engine; null where there can be none. */
export function choose(start: () => Device | null, server: Engine, home: Store<Home>): Chosen {
  let device: Device | null = null;
  let up = false;
  let starts = 0;

  function wake(): void {
    if (device || starts >= MOST_STARTS) return;
    starts += 1;
    const began = performance.now();
    const started = tried();
    device = started;
    void started?.lost.then((why) => gone(started, why));
    void started?.awake.then(() => {
      if (device !== started) return;
      up = true;
      home.set({ home: "device", startedMs: Math.round(performance.now() - began) });
    });
  }

  function tried(): Device | null {
    try {
      const started = start();
      if (!started) unable("this browser cannot run it");
      return started;
    } catch (problem) {
      unable(inWords(problem));
      return null;
    }
  }

  function unable(why: string): void {
    starts = Infinity;
    home.set({ why });
  }

  function gone(which: Device, why: string): void {
    if (device !== which) return;
    const worked = up;
    device = null;
    up = false;
    home.set({ home: "server", why });
    if (worked) wake();
  }

  async function fromServer<T>(ask: Ask<T>): Promise<T> {
    try {
      const answer = await ask(server);
      heard();
      return answer;
    } catch (problem) {
      if (problem instanceof Refused) heard();
      else if (!device) home.set({ home: "none" });
      throw problem;
    }
  }

  function heard(): void {
    if (!up) home.set({ home: "server" });
    wake(); // whoever could not be reached for the files may be reached now
  }

  async function fromDevice<T>(which: Device, ask: Ask<T>): Promise<T> {
    try {
      return await ask(which.engine);
    } catch (problem) {
      if (problem instanceof Refused) throw problem;
      home.set({ why: inWords(problem) }); // a fault of ours: the server may know better
      return fromServer(ask);
    }
  }

  /** Asks the server, and the device too if it wakes before the server has answered. */
  async function whileWaking<T>(which: Device, ask: Ask<T>): Promise<T> {
    let answered = false;
    const heardOf = (engine: Promise<T>): Promise<() => T> => engine.then(
      (answer) => { answered = true; return () => answer; },
      (problem: unknown) => {
        if (!(problem instanceof Refused)) throw problem;
        answered = true; // a refusal is an answer
        return () => { throw problem; };
      },
    );
    const first = heardOf(fromServer(ask));
    const second = Promise.race([which.awake, which.lost]).then(() => (answered ? first : heardOf(ask(which.engine))));
    const result = await Promise.any([first, second]).catch(() => null);
    return result ? result() : fromServer(ask); // neither answered: as if there were no device
  }

  const ask = <T>(of: Ask<T>): Promise<T> => (!device ? fromServer(of) : up ? fromDevice(device, of) : whileWaking(device, of));
  const serverFirst = <T>(of: Ask<T>): Promise<T> => fromServer(of).catch((problem: unknown) => {
    if (problem instanceof Refused || !device) throw problem;
    return of(device.engine);
  });
  wake();
  return {
    engine: {
      call: (request) => ask((engine) => engine.call(request)),
      prepared: (asked) => ask((engine) => engine.prepared(asked)),
      chosen: (asked) => ask((engine) => engine.chosen(asked)),
      aimed: (request) => ask((engine) => engine.aimed(request)),
      replay: (events) => ask((engine) => engine.replay(events)),
      review: (events, side, set_number) => ask((engine) => engine.review(events, side, set_number)),
      serves: (events, name) => ask((engine) => engine.serves(events, name)),
      formation: (asked) => ask((engine) => engine.formation(asked)),
      book: (asked) => serverFirst((engine) => engine.book(asked)),
      stock: () => ask((engine) => engine.stock()),
    },
    again: () => {
      if (Number.isFinite(starts)) starts = 0;
      wake();
    },
  };
}

const inWords = (problem: unknown): string => (problem instanceof Error ? problem.message : String(problem));

export const home = createStore<Home>({ home: "waking" });
const chosen = choose(startDevice, remote, home);
export const { engine } = chosen;
globalThis.addEventListener?.("online", chosen.again);
