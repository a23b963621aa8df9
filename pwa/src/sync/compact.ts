/**
 * A carried match as few bytes as possible, and back without any loss. DEVELOPERS.md has the format for other readers.
 *
 * An id is 16 bytes of which ten are chance and cannot be made smaller; so ids are kept apart from the rest, which is text
 * that repeats itself: columns of small differences, then each event's own values by the shape of its keys.
 */
import { deflateSync, inflateSync, strFromU8, strToU8 } from "fflate";
import type { MatchEvent } from "../api/match";
import type { Carried } from "./carried";

const VERSION = 1;

/** What most transfers contain, so that even a short one need not spell it out. Part of the format: never changed within a version. */
export const DICTIONARY = strToU8(
  '"match_opened","set_started","serving_first","setter_position","lineup","liberos","setters","system","one_setter","substituted","libero_replaced","enters","leaves","time_out_taken","server_seen","number","score_corrected","lineup_corrected","landing","passer","high_school","jump_float","standing_float","device ' +
    '{"held":{"device ","devices":["device ","at":[],"positions":[[1,"columns":[[0,0,0,[1,1,1,1,[0,0,0,1,0,0,1,"shapes":[["type","spot","target","kind","speed_m_s","keep","p_error","p_ace"],["type","side"],["type","event_id"],["type","grade"],["type","first_ball"],["type","winner"],["type","winner","ending"],["type","error"]],' +
    '"bodies":[[0,"call_shown",{"x_m":4.5,"y_m":-9},{"x_m":-3.4,"y_m":7.2},[2,"retracted","serve_noted","attack","free_ball","service_error","ace",[3,"pass_graded",1],[3,"pass_graded",2],[3,"pass_graded",3],[5,"rally_won","us"],[5,"rally_won","them"]]}',
);

const ENVELOPE = ["device", "counter", "set_number", "rally_number", "seen"] as const;
const COUNTED = ["counter", "set_number", "rally_number"] as const;
const SEEN = 5; // its column
const CANONICAL = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

/** Bytes 0 to 5 of an id are its time. [ms] */
const TIME_DIGITS = 12;

interface Text {
  readonly held: Carried["held"];
  readonly devices: readonly string[];
  /** Positions of the rows, as `runsOf` gives them. */
  readonly positions: readonly (readonly [number, number])[];
  /** One column each: time of the id, which device, counter, set, rally, seen; each as the difference from the row before, a device's counter from that device's. `seen` is null where the event has none. */
  readonly columns: readonly (readonly (number | null)[])[];
  readonly shapes: readonly (readonly string[])[];
  /** [shape, its values...]; a row that is not of the usual kind stands as [-1, the whole event]. */
  readonly bodies: readonly (readonly unknown[])[];
}

const isUsual = (event: MatchEvent): boolean =>
  CANONICAL.test(event.id) && typeof event.device === "string" && [...COUNTED.map((name) => event[name]), event.seen ?? 0].every(Number.isSafeInteger) && event.seen !== null;

/** Returns the place of a value in a list, which grows when the value is new. */
function placeIn<T>(list: T[], places: Map<string, number>, key: string, value: T): number {
  const place = places.get(key) ?? list.push(value) - 1;
  places.set(key, place);
  return place;
}

/** Returns positions as runs of consecutive ones, [first, how many]; a first of 0 means that none of the run has a position. */
export function runsOf(positions: readonly number[]): readonly (readonly [number, number])[] {
  const runs: [number, number][] = [];
  for (const position of positions) {
    const run = runs.at(-1);
    const goesOn = run && (run[0] === 0 ? position === 0 : run[0] + run[1] === position);
    if (goesOn) run[1] += 1;
    else runs.push([position, 1]);
  }
  return runs;
}

export const positionsOf = (runs: Text["positions"]): readonly number[] =>
  runs.flatMap(([first, count]) => Array.from({ length: count }, (_, i) => (first === 0 ? 0 : first + i)));

const hexBytes = (hex: string): number[] => Array.from({ length: hex.length / 2 }, (_, i) => Number.parseInt(hex.slice(2 * i, 2 * i + 2), 16));
const hexOf = (bytes: Uint8Array): string => [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
const dashed = (hex: string): string => hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");

/** Returns a carried match as bytes: version, head, tails of the ids, the rest deflated. Both lengths are 32 bits, the highest first. */
export function pack({ match, name, origin, said, held, rows }: Carried): Uint8Array<ArrayBuffer> {
  const devices: string[] = [], shapes: string[][] = [], tails: number[] = [];
  const [devicePlaces, shapePlaces] = [new Map<string, number>(), new Map<string, number>()];
  const columns: (number | null)[][] = [[], [], [], [], [], []];
  const counters = new Map<number, number>();
  let before = [0, 0, 0, 0, 0, 0];
  const bodies = rows.map(({ event }): unknown[] => {
    if (!isUsual(event)) return [-1, event];
    const { id, device, counter, set_number, rally_number, seen, ...body } = event;
    const hex = id.replaceAll("-", "");
    tails.push(...hexBytes(hex.slice(TIME_DIGITS)));
    const by = placeIn(devices, devicePlaces, device, device);
    const now = [Number.parseInt(hex.slice(0, TIME_DIGITS), 16), by, counter, set_number, rally_number, seen ?? before[SEEN] ?? 0];
    before[2] = counters.get(by) ?? 0;
    counters.set(by, counter);
    now.forEach((value, i) => columns[i]?.push(i === SEEN && seen === undefined ? null : value - (before[i] ?? 0)));
    before = now;
    const keys = Object.keys(body);
    return [placeIn(shapes, shapePlaces, JSON.stringify(keys), keys), ...Object.values(body)];
  });
  const text: Text = { held, devices, positions: runsOf(rows.map(({ position }) => position)), columns, shapes, bodies };
  const head = strToU8(JSON.stringify({ match, name, origin, said }));
  const rest = deflateSync(strToU8(JSON.stringify(text)), { level: 9, dictionary: DICTIONARY });
  return joined([Uint8Array.of(VERSION), length(head), head, length(Uint8Array.from(tails)), Uint8Array.from(tails), rest]);
}

export class Unreadable extends Error {
  override readonly name = "Unreadable";
}

/** Returns what a carried match is about, as soon as its first bytes are there; null while they are not. */
export function glimpse(bytes: Uint8Array): Pick<Carried, "match" | "name" | "origin" | "said"> | null {
  const head = bytes.length < 5 ? 0 : at(bytes, 1);
  return bytes.length < 5 + head || head === 0 ? null : (JSON.parse(strFromU8(bytes.subarray(5, 5 + head))) as Carried);
}

/** Reads a carried match. Raises Unreadable for another version or bytes that are none. */
export function unpack(bytes: Uint8Array): Carried {
  if (bytes[0] !== VERSION) throw new Unreadable("It was made by another version of Cornerwise. Update both phones.");
  try {
    const about = glimpse(bytes);
    if (!about) throw new Error("no head");
    const tailsAt = 9 + at(bytes, 1), restAt = tailsAt + at(bytes, tailsAt - 4);
    const text = JSON.parse(strFromU8(inflateSync(bytes.subarray(restAt), { dictionary: DICTIONARY }))) as Text;
    if (!CANONICAL.test(about.match) || text.positions.reduce((sum, [, count]) => sum + count, 0) !== text.bodies.length) throw new Error("it contradicts itself");
    const positions = positionsOf(text.positions);
    const events = eventsOf(text, bytes.subarray(tailsAt, restAt));
    if (!events.every(({ id }) => typeof id === "string") || Object.values(text.held).some((count) => typeof count !== "number")) throw new Error("it is no match");
    return { ...about, held: text.held, rows: events.map((event, i) => ({ position: positions[i] ?? 0, event })) };
  } catch (cause) {
    throw new Unreadable("It cannot be read.", { cause });
  }
}

function eventsOf({ devices, columns, shapes, bodies }: Text, tails: Uint8Array): readonly MatchEvent[] {
  const counters = new Map<number, number>();
  let before = [0, 0, 0, 0, 0, 0], row = 0;
  return bodies.map(([shape, ...values]) => {
    if (shape === -1) return values[0] as MatchEvent;
    const by = (before[1] ?? 0) + (columns[1]?.[row] ?? 0);
    before[2] = counters.get(by) ?? 0;
    const now = before.map((value, i) => value + (columns[i]?.[row] ?? 0));
    counters.set(by, now[2] ?? 0);
    const hex = (now[0] ?? 0).toString(16).padStart(TIME_DIGITS, "0") + hexOf(tails.subarray(row * 10, row * 10 + 10));
    const unseen = columns[SEEN]?.[row] === null;
    before = now;
    row += 1;
    const body = Object.fromEntries((shapes[shape as number] ?? []).map((key, i) => [key, values[i]]));
    const envelope = Object.fromEntries(ENVELOPE.map((name, i) => [name, name === "device" ? devices[by] : now[i + 1]]));
    if (unseen) delete envelope["seen"];
    return { id: dashed(hex), ...envelope, ...body } as unknown as MatchEvent;
  });
}

const at = (bytes: Uint8Array, offset: number): number => new DataView(bytes.buffer, bytes.byteOffset).getUint32(offset);
const length = (bytes: Uint8Array): Uint8Array => hex32(bytes.length);
export const hex32 = (value: number): Uint8Array => Uint8Array.of(value >>> 24, (value >>> 16) & 255, (value >>> 8) & 255, value & 255);

export function joined(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  parts.reduce((offset, part) => (all.set(part, offset), offset + part.length), 0);
  return all;
}
