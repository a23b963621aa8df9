import "fake-indexeddb/auto";
import { expect, test, vi } from "vitest";
import { append, completeTo, deviceName, forgetMatch, mark, matchesWaiting, openLog, readLog, take, unsent, type NewRow } from "./log";

interface Said { readonly id: string; readonly counter?: number }
let databases = 0;
const fresh = () => openLog(`log-${(databases += 1)}`);
const row = (id: string, tap = id): NewRow<Said> => ({ event: { id }, tap, undo: false, said: id });

test("what was written is read again from another connection, as after a reload", async () => {
  const name = `log-${(databases += 1)}`;
  const before = await openLog(name);
  await append<Said>(before, "m", () => [row("a"), row("b")]);
  before.close();
  expect((await readLog<Said>(await openLog(name), "m")).map(({ id }) => id)).toEqual(["a", "b"]);
});

test("the device's counter goes on over taps and matches", async () => {
  const db = await fresh();
  const counters: number[] = [];
  const make = (ids: string[]) => (counter: number) => (counters.push(counter), ids.map((id) => row(id)));
  await append<Said>(db, "m", make(["a", "b"]));
  await append<Said>(db, "n", make(["c"]));
  await append<Said>(db, "m", make(["d"]));
  expect(counters).toEqual([0, 2, 3]);
});

test("two taps at once both land, in turn", async () => {
  const db = await fresh();
  await Promise.all([append<Said>(db, "m", () => [row("a")]), append<Said>(db, "m", () => [row("b")])]);
  expect((await readLog<Said>(db, "m")).map(({ n }) => n)).toEqual([0, 1]);
});

test("a tap whose event exists already writes nothing at all", async () => {
  const db = await fresh();
  await append<Said>(db, "m", () => [row("a")]);
  await expect(append<Said>(db, "m", () => [row("b"), row("a")])).rejects.toThrow();
  expect((await readLog<Said>(db, "m")).map(({ id }) => id)).toEqual(["a"]);
});

test("unsent are the oldest first, in bounded numbers, without what was taken or refused", async () => {
  const db = await fresh();
  await append<Said>(db, "m", () => ["a", "b", "c", "d"].map((id) => row(id)));
  await mark(db, "m", [{ id: "a", position: 7 }, { id: "c", refused: "grade: 0 to 3" }]);
  expect((await unsent<Said>(db, "m", 1)).map(({ id }) => id)).toEqual(["b"]);
  expect((await unsent<Said>(db, "m", 9)).map(({ id }) => id)).toEqual(["b", "d"]);
});

test("a log is what the service took, in its order, then our own", async () => {
  const db = await fresh();
  await append<Said>(db, "m", () => [row("mine"), row("mine too"), row("bad")]);
  await take<Said>(db, "m", [{ position: 1, event: { id: "theirs" } }, { position: 2, event: { id: "mine too" } }]);
  await mark(db, "m", [{ id: "bad", refused: "type: known" }]);
  expect((await readLog<Said>(db, "m")).map(({ id }) => id)).toEqual(["theirs", "mine too", "mine"]);
});

test("matches are apart, and one that is forgotten leaves the others", async () => {
  const db = await fresh();
  await append<Said>(db, "m", () => [row("a")]);
  await append<Said>(db, "n", () => [row("b")]);
  expect(await matchesWaiting(db)).toEqual(["m", "n"]);
  await forgetMatch(db, "m");
  expect(await matchesWaiting(db)).toEqual(["n"]);
  expect(await readLog(db, "m")).toEqual([]);
});

test("a device keeps the name it was given first", async () => {
  const db = await fresh();
  expect(await deviceName(db, () => "one")).toBe("one");
  expect(await deviceName(db, () => "two")).toBe("one");
});

test("a match and its first events are written together, or not at all", async () => {
  const db = await fresh();
  const begins = { id: "m", name: "Cup", begun: false };
  await expect(append<Said>(db, "m", () => [row("a"), row("a")], begins)).rejects.toThrow();
  expect([await db.getAll("matches"), await readLog(db, "m")]).toEqual([[], []]);
  await append<Said>(db, "m", () => [row("a")], begins);
  expect(await db.getAll("matches")).toEqual([begins]);
});

test("a device is complete up to the first gap, however far its own events are", async () => {
  const db = await fresh();
  await append<Said>(db, "m", () => [row("mine")]);
  await mark(db, "m", [{ id: "mine", position: 3 }]);
  expect(await completeTo(db, "m")).toBe(0);
  await take<Said>(db, "m", [{ position: 1, event: { id: "theirs" } }]);
  expect(await completeTo(db, "m")).toBe(1);
  await take<Said>(db, "m", [{ position: 2, event: { id: "theirs too" } }]);
  expect(await completeTo(db, "m")).toBe(3);
});

test("a place that was given once stays, though the same event comes again without one", async () => {
  const db = await fresh();
  await take<Said>(db, "m", [{ position: 5, event: { id: "a" } }]);
  await take<Said>(db, "m", [{ position: 0, event: { id: "a" } }]);
  expect((await readLog(db, "m")).map(({ position }) => position)).toEqual([5]);
});

test("the time given to a tap never goes back, though the clock does", async () => {
  const db = await fresh();
  const times: number[] = [];
  const tap = (at: number, id: string) => { vi.setSystemTime(at); return append<Said>(db, "m", (_, now_ms) => (times.push(now_ms), [row(id)])); };
  vi.useFakeTimers({ toFake: ["Date"] });
  await tap(5000, "a");
  await tap(1000, "b");
  await tap(6000, "c");
  vi.useRealTimers();
  expect(times).toEqual([5000, 5000, 6000]);
});
