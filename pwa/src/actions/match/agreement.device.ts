/**
 * Up to four devices, a network that loses and repeats, clocks that jump, and a real server that is killed: in the end all
 * devices have the same log. The storage and the sync are those of the app; only the network between is made worse here.
 */
import "fake-indexeddb/auto";
import { spawn, type ChildProcess } from "node:child_process";
import { cp, rm } from "node:fs/promises";
import { createServer } from "node:net";
import fc from "fast-check";
import { afterAll, beforeAll, expect, test } from "vitest";
import { v7 } from "uuid";
import type { MatchEvent, Posted, ReplayAnswer, Side } from "../../api/match";
import { postReplay } from "../../api/matches";
import { Unreachable } from "../../api/problem";
import { append, completeTo, matchKnown, openLog, readLog, refusedRows, rememberMatch, unsent, type Db } from "../../store/log";
import { pull, push, SERVICE, type Service } from "../../sync/push";
import { conflictsOf } from "./conflicts";
import { lastTap, resultsOf, takenBack } from "./standing";
import { rowsOf, type Placed } from "./taps";

const SEED = Number(process.env["CORNERWISE_SEED"] ?? 20260301);
const RUNS = 14;
const KILLS = 3; // in all runs together: each costs a start

// --- the server ---

class Server {
  port = 0;
  kills = 0;
  /** The devices are all signed in as the coach. */
  token = "";
  #process: ChildProcess | undefined;

  async start(): Promise<void> {
    this.port ||= await freePort();
    const [python = "", ...more] = JSON.parse(process.env["CORNERWISE_PYTHON"] ?? "[]") as string[];
    this.#process = spawn(python, [...more, "-m", "cornerwise", "serve", `--port=${this.port}`, "--workers=2"], { detached: true, stdio: ["ignore", this.token ? "ignore" : "pipe", "ignore"] });
    const once = this.token ? null : linkOf(this.#process);
    const end = Date.now() + 45_000;
    while (!(await real(`${this.url}/healthz`).then(({ ok }) => ok, () => false))) {
      if (Date.now() > end || this.#process.exitCode !== null) throw new Error("the server did not start");
      await pause(50);
    }
    if (once) this.token = await this.#signIn(await once);
  }

  /** Signs in by the printed link; returns a token of the API. */
  async #signIn(once: string): Promise<string> {
    const asked = (path: string, body: object, cookie: string): Promise<Response> =>
      real(`${this.url}/api/v1${path}`, { method: "POST", headers: { "Content-Type": "application/json", Origin: this.url, Cookie: cookie }, body: JSON.stringify(body) });
    const came = await asked("/session", { once, label: "devices" }, "");
    const made = await asked("/tokens", { label: "devices", role: "coach" }, came.headers.get("Set-Cookie")?.split(";")[0] ?? "");
    return ((await made.json()) as { token: string }).token;
  }

  get url(): string { return `http://127.0.0.1:${this.port}`; }

  /** Kills every process of it at once, as a power cut would. */
  async kill(): Promise<void> {
    const killed = this.#process;
    if (!killed?.pid) return;
    const gone = new Promise((resolve) => killed.once("exit", resolve));
    process.kill(-killed.pid, "SIGKILL"); // its own session
    await gone;
  }
}

const DATA = process.env["CORNERWISE_DATA"] ?? "";
const BACKUP = `${DATA}-backup`;

/** Stops the server, copies its data one way, and starts it again. */
async function copied(from: string, to: string): Promise<void> {
  await server.kill();
  await rm(to, { recursive: true, force: true });
  await cp(from, to, { recursive: true });
  await server.start();
}

const real = globalThis.fetch;
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const freePort = (): Promise<number> => new Promise((resolve) => {
  const probe = createServer().listen(0, "127.0.0.1", () => {
    const address = probe.address();
    probe.close(() => resolve(typeof address === "object" && address ? address.port : 0));
  });
});

/** Returns the secret of the link that a server prints when it starts. */
const linkOf = ({ stdout }: ChildProcess): Promise<string> => new Promise((resolve) => {
  let said = "";
  stdout?.on("data", (part: Buffer) => {
    const [, once] = /once=(\S+)\s/.exec((said += part.toString())) ?? [];
    if (once) resolve(once);
  });
});

const server = new Server();
beforeAll(async () => {
  await server.start();
  globalThis.fetch = (path, init) => real(server.url + String(path), { ...init, headers: { ...init?.headers, Authorization: `Bearer ${server.token}` } }); // the app asks its own origin
});
afterAll(() => server.kill());

// --- a device and its network ---

type Fault = "none" | "request lost" | "answer lost" | "sent twice";

class Device {
  readonly wrote: string[] = [];
  readonly acknowledged = new Map<string, number>();
  cut = false;
  fault: Fault = "none";
  constructor(readonly name: string, readonly match: string, public db: Db, readonly disk: string) {}

  /** The app's own requests, through a network that may fail once. */
  readonly service: Service = {
    begin: (id, name) => this.#through(() => SERVICE.begin(id, name)),
    rename: (id, name) => this.#through(() => SERVICE.rename(id, name)),
    after: (id, position) => this.#through(() => SERVICE.after(id, position)),
    post: async (id, events, known) => {
      const posted = await this.#through<Posted>(() => SERVICE.post(id, events, known));
      for (const { id: of, position } of [...posted.accepted, ...posted.known]) this.acknowledged.set(of, position);
      return posted;
    },
  };

  async #through<T>(send: () => Promise<T>): Promise<T> {
    const fault = this.fault;
    this.fault = "none";
    if (this.cut || fault === "request lost") throw new Unreachable("lost on its way there");
    const answer = await send();
    if (fault === "answer lost") throw new Unreachable("lost on its way back");
    return fault === "sent twice" ? send() : answer;
  }

  log = (): Promise<readonly Awaited<ReturnType<typeof readLog<MatchEvent>>>[number][]> => readLog<MatchEvent>(this.db, this.match);

  async tap(bodies: readonly Placed[], undo = false): Promise<void> {
    const rows = await this.log();
    const place = { set_number: 1, rally_number: 1 + resultsOf(rows, 1) };
    const seen = await completeTo(this.db, this.match);
    const written = await append<MatchEvent>(this.db, this.match, rowsOf(bodies, { device: this.name, seen, place, said: "", undo }));
    this.wrote.push(...written.map(({ id }) => id));
  }

  async undo(): Promise<void> {
    const last = lastTap(await this.log(), this.name);
    if (last) await this.tap(takenBack(last), true);
  }

  async settle(which: "counted" | "other"): Promise<boolean> {
    const rows = await this.log();
    const { contradictions } = await replayed(rows.map(({ event }) => event));
    const [conflict] = conflictsOf(rows, contradictions, this.name);
    if (conflict) await this.tap(conflict[which].settles);
    return conflict !== undefined;
  }

  async exchange(): Promise<void> {
    await push(this.db, this.match, this.service);
    await pull(this.db, this.match, this.service);
  }

  /** The page is closed and opened again. */
  async reload(): Promise<void> {
    this.db.close();
    this.db = await openLog(this.disk);
  }
}

const replayed = (events: readonly MatchEvent[]): Promise<ReplayAnswer> =>
  events.length === 0 ? Promise.resolve({ contradictions: [] } as unknown as ReplayAnswer) : postReplay(events);

let devices = 0;
async function together(count: number): Promise<Device[]> {
  const match = v7();
  return Promise.all(Array.from({ length: count }, async (_, i) => {
    const disk = `device-${(devices += 1)}`;
    const db = await openLog(disk);
    await rememberMatch(db, { id: match, name: "Cup", begun: false });
    return new Device(`phone ${i}`, match, db, disk);
  }));
}

// --- what happens ---

const side = fc.constantFrom<Side>("us", "them");
const body = fc.oneof(
  { weight: 5, arbitrary: side.map((winner): Placed => ({ type: "rally_won", winner })) },
  { weight: 3, arbitrary: fc.constantFrom(1 as const, 2 as const, 3 as const).map((grade): Placed => ({ type: "pass_graded", grade })) },
  { weight: 1, arbitrary: fc.tuple(side, fc.integer({ min: 1, max: 3 }), fc.integer({ min: 11, max: 13 })).map(([of, leaves, enters]): Placed => ({ type: "substituted", side: of, leaves, enters })) },
  { weight: 1, arbitrary: fc.tuple(fc.nat(9), fc.nat(9)).map(([us, them]): Placed => ({ type: "score_corrected", us, them })) },
  { weight: 1, arbitrary: side.map((of): Placed => ({ type: "time_out_taken", side: of })) },
);
const FAULTS: readonly Fault[] = ["none", "none", "request lost", "answer lost", "sent twice"];
const step = fc.record({
  who: fc.nat(3),
  does: fc.oneof(
    { weight: 8, arbitrary: fc.record({ kind: fc.constant("tap" as const), bodies: fc.array(body, { minLength: 1, maxLength: 2 }), jump_ms: fc.constantFrom(0, 0, 0, 3_600_000, -3_600_000) }) },
    { weight: 2, arbitrary: fc.constant({ kind: "undo" as const }) },
    { weight: 1, arbitrary: fc.record({ kind: fc.constant("settle" as const), which: fc.constantFrom("counted" as const, "other" as const) }) },
    { weight: 5, arbitrary: fc.record({ kind: fc.constant("exchange" as const), fault: fc.constantFrom(...FAULTS), all: fc.boolean() }) },
    { weight: 1, arbitrary: fc.constant({ kind: "cut" as const }) },
    { weight: 1, arbitrary: fc.constant({ kind: "reload" as const }) },
    { weight: 1, arbitrary: fc.constant({ kind: "kill" as const }) },
  ),
});
type Step = typeof step extends fc.Arbitrary<infer S> ? S : never;

const lost = (problem: unknown): void => {
  if (!(problem instanceof Unreachable)) throw problem;
};

async function take({ who, does }: Step, all: readonly Device[]): Promise<void> {
  const device = all[who % all.length] as Device;
  if (does.kind === "tap") return withClock(does.jump_ms, () => device.tap(does.bodies));
  if (does.kind === "undo") return device.undo();
  if (does.kind === "settle") return void (await device.settle(does.which));
  if (does.kind === "cut") return void (device.cut = !device.cut);
  if (does.kind === "reload") return device.reload();
  if (does.kind === "exchange") {
    device.fault = does.fault;
    return void (await Promise.all((does.all ? all : [device]).map((one) => one.exchange().catch(lost))));
  }
  if (server.kills >= KILLS) return;
  server.kills += 1;
  const running = Promise.all(all.map((one) => one.exchange().catch(lost)));
  await pause(8);
  await server.kill();
  await running;
  await server.start();
}

async function withClock(jump_ms: number, act: () => Promise<void>): Promise<void> {
  const now = Date.now;
  Date.now = () => now() + jump_ms;
  try {
    await act();
  } finally {
    Date.now = now;
  }
}

// --- what must be so in the end ---

const ask = async (path: string): Promise<unknown> => (await fetch(`/api/v1${path}`)).json();

async function everybodyExchanges(all: readonly Device[]): Promise<void> {
  for (const device of all) device.cut = false;
  for (const device of [...all, ...all]) await device.exchange();
}

async function checkAgreement(all: readonly Device[]): Promise<void> {
  const match = all[0]?.match ?? "";
  const kept = (await ask(`/matches/${match}/log`)) as { events: MatchEvent[] };
  const ids = kept.events.map(({ id }) => id);
  expect(new Set(ids).size).toBe(ids.length);
  expect([...ids].sort()).toEqual(all.flatMap(({ wrote }) => wrote).sort()); // nothing lost, nothing twice, acknowledged or not
  for (const device of all) {
    expect((await device.log()).map(({ id }) => id)).toEqual(ids);
    expect([await unsent(device.db, match, 9), await refusedRows(device.db, match)]).toEqual([[], []]);
    for (const [id, position] of device.acknowledged) expect(ids[position - 1]).toBe(id);
    expect(ids.filter((id) => device.wrote.includes(id))).toEqual(device.wrote); // its own, in the order of its taps
    expect([...device.wrote].sort()).toEqual(device.wrote); // also by their ids, though the clock jumped
  }
  if (ids.length === 0) return;
  const said = (await ask(`/matches/${match}/state`)) as ReplayAnswer;
  for (const device of all) expect((await replayed((await device.log()).map(({ event }) => event))).state).toEqual(said.state);
}

test("whatever the network, the clocks and the server do, all devices come to the same log, and nothing is lost", async () => {
  const script = fc.tuple(fc.integer({ min: 1, max: 4 }), fc.array(step, { minLength: 4, maxLength: 24 }));
  await fc.assert(
    fc.asyncProperty(script, async ([count, steps]) => {
      const all = await together(count);
      for (const one of steps) await take(one, all);
      await everybodyExchanges(all);
      await checkAgreement(all);
      for (let i = 0; i < 40 && (await all[0]?.settle(i % 2 ? "counted" : "other")); i += 1);
      expect(await all[0]?.settle("counted")).toBe(false); // every conflict can be settled, and stays so
      await everybodyExchanges(all);
      await checkAgreement(all);
    }),
    { seed: SEED, numRuns: RUNS, endOnFailure: true },
  );
  expect(server.kills).toBe(KILLS);
});

test("two coaches settle at once: alike, or differently, all devices count the same", async () => {
  for (const [first, second] of [["counted", "counted"], ["other", "other"], ["counted", "other"], ["other", "counted"]] as const) {
    const [a, b] = (await together(2)) as [Device, Device];
    await a.tap([{ type: "set_started", serving_first: "us", at: { set_number: 1, rally_number: 1 } }]);
    await everybodyExchanges([a, b]);
    await a.tap([{ type: "rally_won", winner: "us" }]);
    await b.tap([{ type: "rally_won", winner: "them" }]);
    await everybodyExchanges([a, b]);
    await a.settle(first);
    await b.settle(second);
    await everybodyExchanges([a, b]);
    await checkAgreement([a, b]);
    const { state, contradictions } = await replayed((await b.log()).map(({ event }) => event));
    expect(state.points).toEqual(first === "counted" ? { us: 1, them: 0 } : { us: 0, them: 1 });
    expect(contradictions.map(({ code }) => code)).toEqual(first === second ? [] : ["conflicting_result"]);
  }
});

test("a server that was restored from an older backup gets back what it lacks, in its old order, from whoever has it", async () => {
  for (const firstBack of [0, 1]) {
    const [a, b] = (await together(2)) as [Device, Device];
    const won = (...sides: Side[]): Placed[] => sides.map((winner): Placed => ({ type: "rally_won", winner }));
    await a.tap([{ type: "set_started", serving_first: "us", at: { set_number: 1, rally_number: 1 } }]);
    for (const winner of ["us", "them", "us"] as const) await a.tap(won(winner));
    await everybodyExchanges([a, b]);
    await copied(DATA, BACKUP);
    await b.tap(won("them"));
    await b.exchange();
    await a.exchange();
    await a.tap([...won("us"), { type: "time_out_taken", side: "them" }]);
    await everybodyExchanges([a, b]);
    await b.tap(won("us"));
    await b.exchange(); // a has not seen this one
    const before = (await b.log()).map(({ id }) => id);
    await copied(BACKUP, DATA);
    expect(((await ask(`/matches/${a.match}/log`)) as { events: MatchEvent[] }).events).toHaveLength(4);
    const [first, second] = firstBack === 0 ? [a, b] : [b, a];
    await first.tap(won("them")); // not knowing of it
    const tapped = first.wrote.at(-1);
    await first.exchange();
    const seen = new Set((await first.log()).map(({ id }) => id));
    expect(((await ask(`/matches/${a.match}/log`)) as { events: MatchEvent[] }).events.map(({ id }) => id)).toEqual([...before.filter((id) => seen.has(id)), tapped]);
    for (const device of [a, b]) device.acknowledged.clear(); // the places are others now
    await second.exchange();
    await everybodyExchanges([a, b]);
    await checkAgreement([a, b]);
    expect((await matchKnown(first.db, first.match))?.lost_ms).toBeGreaterThan(0);
  }
});

test("a server that lost events and took others in their places since is noticed all the same", async () => {
  const [a, b] = (await together(2)) as [Device, Device];
  await a.tap([{ type: "set_started", serving_first: "us", at: { set_number: 1, rally_number: 1 } }]);
  await everybodyExchanges([a, b]);
  await copied(DATA, BACKUP);
  for (let i = 0; i < 3; i += 1) await a.tap([{ type: "rally_won", winner: "us" }]);
  await a.exchange(); // b has not seen these
  await copied(BACKUP, DATA);
  for (let i = 0; i < 6; i += 1) await b.tap([{ type: "rally_won", winner: "them" }]);
  await b.exchange();
  for (const device of [a, b]) device.acknowledged.clear();
  await a.exchange();
  await everybodyExchanges([a, b]);
  await checkAgreement([a, b]);
});
