import { expect, test } from "vitest";
import { Refused, Unreachable } from "../api/problem";
import type { Stock } from "../api/types";
import { createStore } from "../store/store";
import { choose, MOST_STARTS, type Home } from "./choice";
import { deviceOver, Failed, nextOf, type Asked, type Device, type Said, type Speaker } from "./device";
import type { Engine } from "./engine";

const REFUSED = new Refused(422, "A rule is broken", [{ field: "events", value: 1, expected: "a list", rule: "event_shape" }]);

/** An engine that answers every question with its own name, or fails as it is told. */
const named = (name: string, fails: () => Error | null = () => null): Engine => {
  const answer = async (): Promise<never> => {
    const problem = fails();
    if (problem) throw problem;
    return name as never;
  };
  return { call: answer, prepared: answer, chosen: answer, aimed: answer, replay: answer, review: answer, serves: answer, formation: answer, book: answer, stock: answer };
};

/** A device that wakes and stops when it is told. */
function sleeper(engine = named("device")) {
  const told = { wake: () => undefined as void, lose: (_: string) => undefined as void, starts: 0 };
  const start = (): Device => {
    told.starts += 1;
    const awake = new Promise<void>((resolve) => (told.wake = resolve));
    const lost = new Promise<string>((resolve) => (told.lose = resolve));
    return { engine, awake, lost };
  };
  return { told, start };
}

const soon = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));
const newHome = () => createStore<Home>({ home: "waking" });

test("while the device wakes the server answers, afterwards the device", async () => {
  const { told, start } = sleeper();
  const home = newHome();
  const { engine } = choose(start, named("server"), home);
  expect(home.get().home).toBe("waking");
  expect(await engine.stock()).toBe("server");
  expect(home.get().home).toBe("server");
  told.wake();
  await soon();
  expect(await engine.stock()).toBe("device");
  expect(home.get()).toMatchObject({ home: "device" });
  expect(home.get().startedMs).toBeGreaterThanOrEqual(0);
});

test("questions that nobody answers while the device wakes are answered when it is up", async () => {
  const { told, start } = sleeper();
  const home = newHome();
  const { engine } = choose(start, named("server", () => new Unreachable("no network")), home);
  const questions = [engine.stock(), engine.replay([]), engine.review([], "us", null)];
  await soon();
  expect(home.get().home).toBe("waking");
  told.wake();
  expect(await Promise.all(questions)).toEqual(["device", "device", "device"]);
});

test("a server that is slow does not keep the device from answering", async () => {
  const { told, start } = sleeper();
  const never = new Promise<never>(() => undefined);
  const { engine } = choose(start, { call: () => never, prepared: () => never, chosen: () => never, aimed: () => never, replay: () => never, review: () => never, serves: () => never, formation: () => never, book: () => never, stock: () => never }, newHome());
  const question = engine.stock();
  told.wake();
  expect(await question).toBe("device");
});

test("what the server has answered is not asked of the device again", async () => {
  let asked = 0;
  const { told, start } = sleeper(named("device", () => ((asked += 1), null)));
  const { engine } = choose(start, named("server"), newHome());
  await engine.stock();
  told.wake();
  await soon();
  expect(asked).toBe(0);
});

test("a refusal is an answer, wherever it comes from", async () => {
  const { told, start } = sleeper(named("device", () => REFUSED));
  const { engine } = choose(start, named("server", () => REFUSED), newHome());
  await expect(engine.replay([])).rejects.toBe(REFUSED);
  told.wake();
  await soon();
  await expect(engine.replay([])).rejects.toBe(REFUSED);
});

test("a device that goes wrong at a question has the server answer it, and that is said", async () => {
  const { told, start } = sleeper(named("device", () => new Failed("ZeroDivisionError")));
  const home = newHome();
  const { engine } = choose(start, named("server"), home);
  told.wake();
  await soon();
  expect(await engine.stock()).toBe("server");
  expect(home.get()).toMatchObject({ home: "device", why: "ZeroDivisionError" });
});

test("a browser that cannot run the engine goes on with the server, and says when that is gone too", async () => {
  let there = true;
  const home = newHome();
  const { engine } = choose(() => null, named("server", () => (there ? null : new Unreachable("gone"))), home);
  expect(await engine.stock()).toBe("server");
  expect(home.get()).toMatchObject({ home: "server", why: "this browser cannot run it" });
  there = false;
  await expect(engine.stock()).rejects.toBeInstanceOf(Unreachable);
  expect(home.get().home).toBe("none");
  there = true;
  await engine.stock();
  expect(home.get().home).toBe("server");
});

test("a device that stopped is started again, a few times only", async () => {
  const { told, start } = sleeper();
  const home = newHome();
  const { engine, again } = choose(start, named("server"), home);
  for (let n = 1; n <= MOST_STARTS; n += 1) {
    expect(told.starts).toBe(n);
    told.wake();
    await soon();
    expect(home.get().home).toBe("device");
    told.lose("out of memory");
    await soon();
  }
  expect(told.starts).toBe(MOST_STARTS);
  expect(home.get()).toMatchObject({ home: "server", why: "out of memory" });
  expect(await engine.stock()).toBe("server");
  expect(told.starts).toBe(MOST_STARTS);
  again();
  expect(told.starts).toBe(MOST_STARTS + 1);
});

test("files that could not be had are fetched again when the server is there", async () => {
  const { told, start } = sleeper();
  let there = false;
  const { engine } = choose(start, named("server", () => (there ? null : new Unreachable("gone"))), newHome());
  told.lose("wake.mjs: 503");
  await soon();
  await expect(engine.stock()).rejects.toBeInstanceOf(Unreachable);
  expect(told.starts).toBe(1);
  there = true;
  await engine.stock();
  expect(told.starts).toBe(2);
});

/** A worker that says what it is told to. */
class Told implements Speaker {
  onmessage: Speaker["onmessage"] = null;
  onerror: Speaker["onerror"] = null;
  readonly asked: Asked[] = [];
  postMessage(asked: Asked): void { this.asked.push(asked); }
  terminate(): void { this.onmessage = null; }
  say(said: Said): void { this.onmessage?.({ data: said } as MessageEvent<Said>); }
}

test("the worker gets one question at a time, what happened before what to do, the newest call first", async () => {
  const worker = new Told();
  const { engine } = deviceOver(() => worker);
  const answers = [engine.call({} as never), engine.call({ level: "college" } as never), engine.stock(), engine.replay([])];
  expect(worker.asked).toEqual([]);
  worker.say({ awake: true });
  for (let n = 0; n < answers.length; n += 1) {
    expect(worker.asked.length).toBe(n + 1);
    const { id, door } = worker.asked.at(-1) as Asked;
    worker.say({ id, answer: `${door} ${n}` });
  }
  expect(await Promise.all(answers)).toEqual(["call 3", "call 2", "stock 1", "replay 0"]);
  expect(worker.asked[2]?.request).toEqual({ level: "college" });
});

test("a refusal of the worker is the one that the server would have sent, anything else is a failure", async () => {
  const worker = new Told();
  const { engine } = deviceOver(() => worker);
  worker.say({ awake: true });
  const [fault] = REFUSED.faults;
  const refused = engine.replay([]);
  worker.say({ id: worker.asked.at(-1)?.id ?? 0, refused: fault as never });
  await expect(refused).rejects.toEqual(REFUSED);
  const failed = engine.stock();
  worker.say({ id: worker.asked.at(-1)?.id ?? 0, failed: "KeyError" });
  await expect(failed).rejects.toEqual(new Failed("KeyError"));
});

test("a worker that ends fails what it was asked, and says so", async () => {
  const worker = new Told();
  const { engine, lost } = deviceOver(() => worker);
  const question = engine.stock() as Promise<Stock>;
  worker.say({ awake: false, why: "python.zip: 404" });
  await expect(question).rejects.toEqual(new Failed("python.zip: 404"));
  expect(await lost).toBe("python.zip: 404");
  await expect(engine.stock()).rejects.toBeInstanceOf(Failed);
});

test("nobody waiting is nobody next", () => expect(nextOf([])).toBeUndefined());
