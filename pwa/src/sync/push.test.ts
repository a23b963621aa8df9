import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import type { MatchEvent, Posted } from "../api/match";
import type { Place } from "../api/matches";
import { Refused, Unreachable } from "../api/problem";
import { append, matchKnown, noteMatch, openLog, readLog, refusedRows, rememberMatch, unsent, type Db } from "../store/log";
import { BATCH, bounded, pull, push, type Service } from "./push";

/** A service that keeps events as the real one does: once each, with positions from 1. */
class Kept implements Service {
  readonly events: MatchEvent[] = [];
  readonly batches: number[] = [];
  begun = 0;
  failing = 0;
  refuses: string[] = [];
  loseAnswer = false;
  unreadable: string[] = [];
  readonly names: (string | null)[] = [];
  rename = async (_: string, name: string | null): Promise<void> => void this.names.push(name);
  begin = async (): Promise<void> => void (this.begun += 1);
  post = async (_: string, batch: readonly MatchEvent[], last: Place | null): Promise<Posted> => {
    if (this.failing-- > 0) throw new Unreachable("nothing came back");
    if (last && this.events[last.position - 1]?.id !== last.id) throw new Refused(409, "Another log", [], 0, { kind: "/problems/another_log", held: null, detail: "" });
    if (batch.some(({ id }) => this.unreadable.includes(id))) throw new Refused(422, "Unreadable", []);
    this.batches.push(batch.length);
    const at = (event: MatchEvent) => this.events.findIndex(({ id }) => id === event.id) + 1;
    const refused = batch.flatMap((event, index) => (this.refuses.includes(event.id) ? [{ index, id: event.id, error: { field: "x", expected: "y" } }] : []));
    const known = batch.filter((event) => at(event) > 0).map((event) => ({ id: event.id, position: at(event) }));
    const accepted = batch.filter((event) => at(event) === 0 && !this.refuses.includes(event.id)).map((event) => ({ id: event.id, position: this.events.push(event) }));
    if (this.loseAnswer) throw new Unreachable("the answer was lost");
    return { accepted, known, refused, position: this.events.length };
  };
  after = async (_: string, position: number) => {
    const items = this.events.slice(position, position + 2).map((event, i) => ({ position: position + i + 1, event }));
    return { items, more: this.events.length > position + 2, after_id: this.events[position - 1]?.id ?? null };
  };
}

let databases = 0;
async function withEvents(count: number): Promise<Db> {
  const db = await openLog(`push-${(databases += 1)}`);
  await append<MatchEvent>(db, "m", (counter) => Array.from({ length: count }, (_, i) => ({ event: { id: `e${i}`, counter: counter + i } as MatchEvent, tap: `t${i}`, undo: false, said: "" })));
  return db;
}

test("everything is sent, oldest first, in bounded batches", async () => {
  const [db, service] = [await withEvents(2 * BATCH + 5), new Kept()];
  await push(db, "m", service);
  expect(service.batches).toEqual([BATCH, BATCH, 5]);
  expect(service.events.map(({ id }) => id)).toEqual(Array.from({ length: 2 * BATCH + 5 }, (_, i) => `e${i}`));
  expect(await unsent(db, "m", 9)).toEqual([]);
});

test("a failure leaves all that was not taken, and the next time goes on", async () => {
  const [db, service] = [await withEvents(3), new Kept()];
  service.failing = 1;
  await expect(push(db, "m", service)).rejects.toThrow(Unreachable);
  expect(await unsent(db, "m", 9)).toHaveLength(3);
  await push(db, "m", service);
  expect(service.events).toHaveLength(3);
});

test("an answer that is lost on its way costs nothing: sent again, kept once", async () => {
  const [db, service] = [await withEvents(3), new Kept()];
  service.loseAnswer = true;
  await expect(push(db, "m", service)).rejects.toThrow();
  service.loseAnswer = false;
  await push(db, "m", service);
  expect(service.events).toHaveLength(3);
  expect((await readLog(db, "m")).map(({ position }) => position)).toEqual([1, 2, 3]);
});

test("a refused event stops none of the others, and is not sent for ever", async () => {
  const [db, service] = [await withEvents(3), new Kept()];
  service.refuses = ["e1"];
  await push(db, "m", service);
  await push(db, "m", service);
  expect(service.events.map(({ id }) => id)).toEqual(["e0", "e2"]);
  expect(service.batches).toEqual([3]);
});

test("a match begun here is begun there once", async () => {
  const [db, service] = [await withEvents(1), new Kept()];
  await rememberMatch(db, { id: "m", name: null, begun: false });
  await push(db, "m", service);
  await push(db, "m", service);
  expect(service.begun).toBe(1);
});

test("a batch that is refused as a whole is halved until the one event is found", async () => {
  const [db, service] = [await withEvents(7), new Kept()];
  service.unreadable = ["e4"];
  await push(db, "m", service);
  expect(service.events.map(({ id }) => id)).toEqual(["e0", "e1", "e2", "e3", "e5", "e6"]);
  expect((await refusedRows(db, "m")).map(({ id, refused }) => [id, refused])).toEqual([["e4", "Unreadable"]]);
});

test.each([401, 403, 404, 409, 410, 429])("an answer %i is no success: everything is kept to be sent later", async (status) => {
  const [db, service] = [await withEvents(3), new Kept()];
  service.post = () => Promise.reject(new Refused(status, "Not now", []));
  await expect(push(db, "m", service)).rejects.toThrow("Not now");
  expect(await unsent(db, "m", 9)).toHaveLength(3);
  expect(await refusedRows(db, "m")).toEqual([]);
});

test("a batch is bounded by its bytes too, and one large event goes alone", async () => {
  const rows = await readLog<MatchEvent>(await withEvents(5), "m");
  const bytes = JSON.stringify(rows[0]?.event).length;
  expect(bounded(rows, 2 * bytes)).toHaveLength(2);
  expect(bounded(rows, 1)).toHaveLength(1);
});

test("a name given here is told once, and told again when it was changed meanwhile", async () => {
  const [db, service] = [await withEvents(1), new Kept()];
  await noteMatch(db, "m", { name: "Cup", renamed: true });
  service.rename = async (_, name) => { service.names.push(name); if (name === "Cup") await noteMatch(db, "m", { name: "Final", renamed: true }); };
  for (let i = 0; i < 3; i += 1) await push(db, "m", service);
  expect(service.names).toEqual(["Cup", "Final"]);
  expect((await matchKnown(db, "m"))?.renamed).toBe(false);
});

const ids = (events: readonly { readonly id: string }[]): readonly string[] => events.map(({ id }) => id);
const other = (id: string): MatchEvent => ({ id, device: "other", counter: 0 }) as unknown as MatchEvent;

async function lost(from: number, ...since: string[]): Promise<{ db: Db; service: Kept }> {
  const [db, service] = [await withEvents(5), new Kept()];
  await push(db, "m", service);
  await pull(db, "m", service);
  service.events.splice(from, 5, ...since.map(other));
  return { db, service };
}

test.each([
  [["e0", "e1", "e2", "e3", "e4"], 3, []],
  [["e0", "e1", "e2", "x", "e3", "e4"], 3, ["x"]],
  [["e0", "e1", "e2", "x", "y", "z", "e3", "e4"], 3, ["x", "y", "z"]],
  [["e0", "e1", "e2", "e3", "e4"], 0, []],
])("a service that lost the end of a log has %j after a device has read it", async (whole, from, since) => {
  const { db, service } = await lost(from, ...since);
  expect(await pull(db, "m", service)).toBe(true);
  expect(ids(service.events)).toEqual(whole);
  expect(ids(await readLog(db, "m"))).toEqual(whole);
  expect(await unsent(db, "m", 9)).toEqual([]);
  expect((await matchKnown(db, "m"))?.lost_ms).toBeGreaterThan(0);
  expect(await pull(db, "m", service)).toBe(false); // once
});

test("what is new goes behind what a service had lost, though it is sent first", async () => {
  const { db, service } = await lost(2);
  await append<MatchEvent>(db, "m", (counter) => [{ event: { id: "a new one", counter } as MatchEvent, tap: "t", undo: false, said: "" }]);
  await push(db, "m", service);
  expect(ids(service.events)).toEqual(["e0", "e1", "e2", "e3", "e4", "a new one"]);
});

test("a service that has all of it is never taken for one that lost some", async () => {
  const [db, service] = [await withEvents(3), new Kept()];
  await push(db, "m", service);
  service.events.push(other("x"), other("y"), other("z"));
  for (let i = 0; i < 3; i += 1) await pull(db, "m", service);
  await push(db, "m", service);
  expect(service.batches).toEqual([3]);
  expect((await matchKnown(db, "m"))?.lost_ms).toBeUndefined();
});

test("what others logged comes page by page, in the service's order", async () => {
  const [db, service] = [await withEvents(1), new Kept()];
  service.events.push(...["x0", "x1", "x2"].map((id) => ({ id }) as MatchEvent));
  await push(db, "m", service);
  expect(await pull(db, "m", service)).toBe(true);
  expect((await readLog(db, "m")).map(({ id }) => id)).toEqual(["x0", "x1", "x2", "e0"]);
  expect(await pull(db, "m", service)).toBe(false);
});
