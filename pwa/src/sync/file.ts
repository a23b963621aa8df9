/** A match as a file of JSON Lines: its first line says what it is, each other line is one event. DEVELOPERS.md has the format. */
import type { MatchEvent } from "../api/match";
import type { Carried } from "./carried";
import { positionsOf, runsOf } from "./compact";
import { EVENT_FIELDS } from "./event-fields";
import { heldBy } from "./carried";

export const FORMAT = "cornerwise-match";
export const FILE_VERSION = 1;
export const MEDIA_TYPE = "application/jsonl";
export const MOST_BYTES = 32_000_000; // chosen: 20,000 events of the longest kind
const MOST_EVENTS = 20_000; // as the service takes

type Runs = readonly (readonly [number, number])[];
interface Head { readonly format: string; readonly version: number; readonly match: { readonly id: string; readonly name: string | null }; readonly events: number; readonly positions: Runs; readonly origin: string; readonly said: string }

export interface Fault { readonly line: number; readonly said: string }
export type Read = { readonly carried: Carried } | { readonly faults: readonly Fault[] };

export function writeFile({ match, name, origin, said, rows }: Carried): string {
  const head: Head = { format: FORMAT, version: FILE_VERSION, match: { id: match, name }, events: rows.length, positions: runsOf(rows.map(({ position }) => position)), origin, said };
  return [head, ...rows.map(({ event }) => event)].map((line) => `${JSON.stringify(line)}\n`).join("");
}

/** Returns a name for the file that every system takes. */
export const fileName = (name: string | null, id: string): string => `${(name ?? "match").normalize("NFC").replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "").slice(0, 60) || "match"}-${id.slice(-6)}.jsonl`;

/** Reads a file: the match, or everything that is wrong with it, line by line, and then nothing of it. */
export function readFile(text: string): Read {
  const lines = text.replace(/^\ufeff/, "").split(/\r?\n/);
  if (lines.at(-1) === "") lines.pop();
  const faults: Fault[] = [];
  const parsed = lines.map((line, i) => object(line, i + 1, faults));
  const head = parsed[0] ? headOf(parsed[0], faults) : null;
  if (lines.length === 0) faults.push({ line: 1, said: "the file is empty" });
  parsed.slice(1).forEach((event, i) => event && faults.push(...faultsOf(event, i + 2)));
  faults.push(...repeated(parsed));
  if (head && head.events !== lines.length - 1) faults.push({ line: lines.length, said: `${head.events} events were expected, ${lines.length - 1} are there: the file is not whole` });
  if (lines.length - 1 > MOST_EVENTS) faults.push({ line: MOST_EVENTS + 2, said: `at most ${MOST_EVENTS} events are taken` });
  if (!head || faults.length > 0) return { faults: faults.sort((a, b) => a.line - b.line) };
  const events = parsed.slice(1) as unknown as readonly MatchEvent[];
  const positions = positionsOf(head.positions);
  const rows = events.map((event, i) => ({ position: positions[i] ?? 0, event }));
  return { carried: { match: head.match.id, name: head.match.name, origin: head.origin, said: head.said, held: heldBy(events), rows } };
}

type Line = Readonly<Record<string, unknown>>;
const isObject = (value: unknown): value is Line => typeof value === "object" && value !== null && !Array.isArray(value);

function object(line: string, number: number, faults: Fault[]): Line | null {
  try {
    const value: unknown = JSON.parse(line);
    if (isObject(value)) return value;
  } catch {
    // said below: one sentence for both
  }
  faults.push({ line: number, said: line.trim() === "" ? "it is empty" : `it is no JSON object: ${shortened(line)}` });
  return null;
}

const shortened = (value: unknown): string => {
  const text = typeof value === "string" ? value : (JSON.stringify(value) ?? "nothing");
  return text.length > 40 ? `${text.slice(0, 40)}\u2026` : text;
};

const UUID7 = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
const isRun = (run: unknown): boolean => Array.isArray(run) && run.length === 2 && run.every((n) => Number.isSafeInteger(n) && n >= 0 && n <= MOST_EVENTS);
const isText = (value: unknown): value is string => typeof value === "string";

/** What each member of the first line has to be. */
const HEAD_FIELDS: Readonly<Record<keyof Head, readonly [(value: unknown) => boolean, string]>> = {
  format: [(value) => value === FORMAT, `"${FORMAT}"`],
  version: [(value) => value === FILE_VERSION, `${FILE_VERSION}`],
  match: [(value) => isObject(value) && isText(value["id"]) && UUID7.test(value["id"]) && (value["name"] === null || (isText(value["name"]) && value["name"].length <= 100)) && Object.keys(value).length === 2, "the match's id and name"],
  events: [(value) => Number.isSafeInteger(value), "how many lines follow"],
  positions: [(value) => Array.isArray(value) && value.every(isRun), "runs of positions"],
  origin: [isText, "an address"],
  said: [isText, "a text"],
};

function headOf(value: Line, faults: Fault[]): Head | null {
  if (value["format"] !== FORMAT) {
    faults.push({ line: 1, said: `this is not a match file of Cornerwise: "format" should be "${FORMAT}", not ${shortened(value["format"])}` });
    return null;
  }
  const wrong = Object.entries(HEAD_FIELDS).filter(([name, [fits]]) => !fits(value[name])).map(([name, [, expected]]) => `"${name}" should be ${expected}, not ${shortened(value[name])}`);
  const unknown = Object.keys(value).filter((name) => !Object.hasOwn(HEAD_FIELDS, name)).map((name) => `"${shortened(name)}" is not known`);
  const placed = wrong.length > 0 ? 0 : (value as unknown as Head).positions.reduce((sum, [, count]) => sum + count, 0);
  if (wrong.length === 0 && placed !== value["events"]) wrong.push(`"positions" are of ${placed} events, not of ${shortened(value["events"])}`);
  faults.push(...[...wrong, ...unknown].map((said) => ({ line: 1, said })));
  return wrong.length + unknown.length > 0 ? null : (value as unknown as Head);
}

const WHOLE = ["counter", "set_number", "rally_number", "seen"];

/** What is wrong with an event's members: their names, and the values every event has. The values of its own are for the engine to judge. */
function faultsOf(event: Line, line: number): readonly Fault[] {
  const type = event["type"];
  const fields = isText(type) && Object.hasOwn(EVENT_FIELDS, type) ? EVENT_FIELDS[type] : undefined;
  if (!fields) return [{ line, said: `"type" should be a kind of event, not ${shortened(type)}` }];
  const said: string[] = [];
  for (const name of fields.required) if (!Object.hasOwn(event, name)) said.push(`"${name}" is missing`);
  for (const name of Object.keys(event)) if (![...fields.required, ...fields.optional].includes(name)) said.push(`"${shortened(name)}" is not known for ${shortened(type)}`);
  if (Object.hasOwn(event, "id") && !(isText(event["id"]) && UUID7.test(event["id"]))) said.push(`"id" should be a UUID of version 7, not ${shortened(event["id"])}`);
  if (Object.hasOwn(event, "device") && !isText(event["device"])) said.push(`"device" should be a text, not ${shortened(event["device"])}`);
  for (const name of WHOLE) if (Object.hasOwn(event, name) && !(Number.isSafeInteger(event[name]) && (event[name] as number) >= 0)) said.push(`"${name}" should be a whole number from 0, not ${shortened(event[name])}`);
  return said.map((one) => ({ line, said: one }));
}

function repeated(parsed: readonly (Line | null)[]): readonly Fault[] {
  const first = new Map<unknown, number>();
  return parsed.slice(1).flatMap((event, i): Fault[] => {
    const id = event?.["id"];
    const before = first.get(id);
    if (id !== undefined && before === undefined) first.set(id, i + 2);
    return id !== undefined && before !== undefined ? [{ line: i + 2, said: `its "id" is that of line ${before}` }] : [];
  });
}
