import "fake-indexeddb/auto";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { MatchEvent } from "../api/match";
import { append, begunMatches, openLog, readLog, unsent, type Db } from "../store/log";
import { carried, heldBy, preview, takeOver, type Carried } from "./carried";
import { fileName, readFile, writeFile, type Fault } from "./file";

const MATCH = "0199a3c2-6f00-7abc-8def-0123456789ab";
const HERE = "https://here.example";
const ABOUT = { match: MATCH, name: "Cup", origin: HERE, said: "set 1, 2\u20131" };
const id = (n: number, at = n): string => `0199a3c2-${at.toString(16).padStart(4, "0")}-7000-8000-${n.toString(16).padStart(12, "0")}`;
const won = (n: number, device = "a", counter = n, at = n): MatchEvent => ({ id: id(n, at), device, counter, set_number: 1, rally_number: n + 1, seen: 0, type: "rally_won", winner: n % 2 ? "us" : "them" });
const given = (events: readonly MatchEvent[], taken = 0): Carried => ({ ...ABOUT, held: heldBy(events), rows: events.map((event, i) => ({ position: i < taken ? i + 1 : 0, event })) });

let databases = 0;
const fresh = (): Promise<Db> => openLog(`carried-${(databases += 1)}`);
const ids = async (db: Db): Promise<readonly string[]> => (await readLog<MatchEvent>(db, MATCH)).map((row) => row.id);
const faults = (text: string): readonly Fault[] => (readFile(text) as { faults: readonly Fault[] }).faults ?? [];

const anyRows = fc.uniqueArray(fc.record({ n: fc.nat(500), by: fc.constantFrom("a", "b", "c"), us: fc.boolean() }), { selector: ({ n }) => n, maxLength: 30 })
  .map((some) => some.map(({ n, by, us }) => ({ ...won(n, by), winner: us ? "us" : "them" }) as MatchEvent));

test("what is written to a file is read from it", () => {
  fc.assert(fc.property(anyRows, fc.nat(10), (events, taken) => void expect(readFile(writeFile(given(events, taken)))).toEqual({ carried: given(events, taken) })));
});

test("line ends of another system and a byte order mark do no harm", () => {
  const text = writeFile(given([won(1), won(2)]));
  expect(readFile(`\ufeff${text.replaceAll("\n", "\r\n")}`)).toEqual(readFile(text));
});

test("what is wrong with a file is said line by line, with the field, the value and what was expected", () => {
  const [head, one, two] = writeFile(given([won(1), won(2)])).split("\n") as [string, string, string];
  const file = (...lines: string[]): string => lines.join("\n");
  expect(faults("")).toEqual([{ line: 1, said: "the file is empty" }]);
  expect(faults("Serves,Aces\n1,2")[0]).toEqual({ line: 1, said: "it is no JSON object: Serves,Aces" });
  expect(faults('{"format":"photo"}')).toContainEqual({ line: 1, said: 'this is not a match file of Cornerwise: "format" should be "cornerwise-match", not photo' });
  expect(faults(file(head.replace('"version":1', '"version":2'), one, two))).toEqual([{ line: 1, said: '"version" should be 1, not 2' }]);
  expect(faults(file(head.replace('"said"', '"weather"'), one, two)).map(({ said }) => said)).toEqual(['"said" should be a text, not nothing', '"weather" is not known']);
  expect(faults(file(head, one.slice(0, 30), two))[0]?.line).toBe(2);
  expect(faults(file(head, one, two.replace("rally_won", "rally_lost")))).toEqual([{ line: 3, said: '"type" should be a kind of event, not rally_lost' }]);
  expect(faults(file(head, one, two.replace('"winner"', '"winer"'))).map(({ said }) => said)).toEqual(['"winner" is missing', '"winer" is not known for rally_won']);
  expect(faults(file(head, one.replace('"rally_number":2', '"rally_number":"2"'), two))).toEqual([{ line: 2, said: '"rally_number" should be a whole number from 0, not 2' }]);
  expect(faults(file(head, one, one))).toEqual([{ line: 3, said: 'its "id" is that of line 2' }]);
  expect(faults(file(head.replace("[[0,2]]", "[[0,9000]]"), one, two))).toEqual([{ line: 1, said: '"positions" are of 9000 events, not of 2' }]);
  expect(faults(file(head, one))).toEqual([{ line: 2, said: "2 events were expected, 1 are there: the file is not whole" }]);
  expect(faults(file(head, one, "", two)).map(({ line }) => line)).toEqual([3, 4]);
});

test("a file has a name that every system takes", () => {
  expect(fileName("Cup: first/round?", MATCH)).toBe("Cup-first-round-6789ab.jsonl");
  expect(fileName(null, MATCH)).toBe("match-6789ab.jsonl");
});

test("a match that is taken over twice is there once, and is sent on like our own", async () => {
  const db = await fresh();
  const all = given([won(1), won(2), won(3)]);
  expect(await takeOver(db, all, HERE)).toEqual({ fresh: 3, known: 0, missing: 0 });
  expect(await takeOver(db, all, HERE)).toEqual({ fresh: 0, known: 3, missing: 0 });
  expect(await ids(db)).toEqual([id(1), id(2), id(3)]);
  expect((await unsent<MatchEvent>(db, MATCH, 9)).map((row) => row.id)).toEqual([id(1), id(2), id(3)]);
});

test("a match that cannot be written wholly is not written at all", async () => {
  const db = await fresh();
  const odd = { ...won(2), id: undefined } as unknown as MatchEvent;
  await expect(takeOver(db, { ...given([won(1)]), rows: [won(1), odd].map((event) => ({ position: 0, event })) }, HERE)).rejects.toThrow();
  expect(await ids(db)).toEqual([]);
  expect(await begunMatches(db)).toEqual([]);
});

test("places count only where both phones have the same service", async () => {
  const [same, other] = [await fresh(), await fresh()];
  await takeOver(same, given([won(1), won(2)], 2), HERE);
  await takeOver(other, given([won(1), won(2)], 2), "https://elsewhere.example");
  expect((await readLog(same, MATCH)).map(({ position }) => position)).toEqual([1, 2]);
  expect((await readLog(other, MATCH)).map(({ position }) => position)).toEqual([0, 0]);
});

test("the end of a match alone tells how much is missing before it, until that comes too", async () => {
  const db = await fresh();
  const events = [1, 2, 3, 4, 5].map((n) => won(n));
  const rows = events.map((event, i) => ({ id: event.id, match: MATCH, n: i, event, tap: "", undo: false, said: "", position: 0, refused: "" }));
  const end = carried(ABOUT, rows, 3);
  expect(await preview(db, end)).toEqual({ fresh: 2, known: 0, missing: 3 });
  expect(await takeOver(db, end, HERE)).toEqual({ fresh: 2, known: 0, missing: 3 });
  expect(await takeOver(db, carried(ABOUT, rows), HERE)).toEqual({ fresh: 3, known: 2, missing: 0 });
  expect(await ids(db)).toEqual(events.map((event) => event.id));
});

test("whoever holds the same events shows them in the same order, each device's by its own counter whatever its clock did", async () => {
  const [ours, theirs] = [[won(1, "a", 0, 50), won(2, "a", 1, 10), won(3, "a", 2, 60)], [won(4, "b", 0, 20), won(5, "b", 1, 55)]]; // the clock of "a" went back
  await fc.assert(fc.asyncProperty(fc.shuffledSubarray([...ours, ...theirs], { minLength: 5 }), async (events) => {
    const db = await fresh();
    await append<MatchEvent>(db, MATCH, () => ours.map((event) => ({ event, tap: event.id, undo: false, said: "" })));
    for (const event of events) await takeOver(db, given([event]), HERE);
    expect(await ids(db)).toEqual([4, 1, 2, 5, 3].map((n) => id(n, [0, 50, 10, 60, 20, 55][n])));
    db.close();
  }), { numRuns: 10 });
});
