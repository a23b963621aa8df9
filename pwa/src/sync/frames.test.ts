import fc from "fast-check";
import { encodeQR } from "qr";
import { decodeQR } from "qr/decode.js";
import { v7 } from "uuid";
import { expect, test } from "vitest";
import type { MatchEvent } from "../api/match";
import { heldBy, type Carried } from "./carried";
import { glimpse, pack, positionsOf, runsOf, unpack, Unreadable } from "./compact";
import { collect, crc32, framesOf, fromBase45, PIECE_BYTES, QR_LEVEL, QR_VERSION, readFrame, SIGN, toBase45, whole, type Collected, type Frame } from "./frames";

const MATCH = "0199a3c2-6f00-7abc-8def-0123456789ab";
const utf8 = new TextEncoder();

// A whole match as it is logged: a call, a grade and a result of each of our serves, a result of each of theirs.
function played(rallies: number, seed = 7): MatchEvent[] {
  let dice = seed, at = Date.UTC(2026, 10, 25, 18), counter = 40;
  const random = (): number => (dice = (dice * 48271) % 2147483647) / 2147483647;
  const events: MatchEvent[] = [];
  const write = (rally: number, body: object): void => {
    at += Math.round(2000 + 9000 * random());
    events.push({ id: v7({ msecs: at, rng: () => Uint8Array.from({ length: 16 }, () => Math.floor(256 * random())) }), device: "device 3f9c21ab", counter, set_number: 1 + Math.floor(rally / 45), rally_number: 1 + (rally % 45), seen: Math.max(0, counter - 42), ...body } as MatchEvent);
    counter += 1;
  };
  const calls = Array.from({ length: 18 }, () => ({ type: "call_shown", spot: { x_m: [-4.25, -2.1, 0, 2.1, 4.25][Math.floor(5 * random())], y_m: -9 }, target: { x_m: Math.round(800 * random() - 400) / 100, y_m: Math.round(400 * random() + 400) / 100 }, kind: "standing_float", speed_m_s: 14, keep: random(), p_error: random() / 5, p_ace: random() / 9 }));
  for (let rally = 0; rally < rallies; rally += 1) {
    if (rally % 45 === 0) write(rally, { type: "set_started", serving_first: "us", us: { lineup: [4, 11, 7, 2, 15, 9], liberos: [13], setters: [4] }, them: { setter_position: 6 } });
    const ours = random() < 0.5;
    if (ours) write(rally, calls[Math.floor(18 * random())] as object);
    if (ours) write(rally, { type: "pass_graded", grade: Math.floor(4 * random()) });
    write(rally, { type: "rally_won", winner: random() < 0.5 ? "us" : "them", ...(random() < 0.15 && { ending: "service_error" }) });
    if (random() < 0.04) write(rally, { type: "retracted", event_id: events.at(-1)?.id });
  }
  return events;
}

const handed = (events: readonly MatchEvent[], taken = 0): Carried => ({
  match: MATCH, name: "Cup, first round", origin: "https://cornerwise.example", said: "set 2, 13\u20139", held: heldBy(events),
  rows: events.map((event, i) => ({ position: i < taken ? i + 1 : 0, event })),
});
const codesOf = (given: Carried): readonly string[] => framesOf(given.match, pack(given));
const read = (texts: readonly string[]): readonly Collected[] => texts.map((text) => readFrame(text) as Frame).reduce<readonly Collected[]>(collect, []);

const anyEvent: fc.Arbitrary<MatchEvent> = fc.oneof(
  fc.record({ id: fc.uuid(), device: fc.constantFrom("a", "b", "\u00e4\u{1f3d0}"), counter: fc.nat(), set_number: fc.nat(5), rally_number: fc.nat(80), seen: fc.nat(), type: fc.constantFrom("rally_won", "not known yet") }),
  fc.record({ id: fc.uuid(), device: fc.string(), counter: fc.maxSafeNat(), set_number: fc.integer(), rally_number: fc.integer(), seen: fc.integer(), type: fc.string(), later: fc.jsonValue() }),
  fc.record({ id: fc.uuid(), device: fc.string(), counter: fc.nat(), set_number: fc.nat(), rally_number: fc.nat(), seen: fc.option(fc.nat(), { nil: undefined }), type: fc.string() }),
  fc.dictionary(fc.string(), fc.jsonValue()).map((event) => ({ ...event, id: "ABCDEF00-0000-7000-8000-000000000000" })),
).map((event) => JSON.parse(JSON.stringify(event)) as MatchEvent);
const anyCarried = fc.record({ name: fc.option(fc.string()), said: fc.string(), rows: fc.array(fc.record({ position: fc.nat(9), event: anyEvent }), { maxLength: 40 }) })
  .map((some): Carried => ({ match: MATCH, origin: "https://here.example", held: { a: 3 }, ...some }));

test("base45 gives the examples of RFC 9285, 4.3 and 4.4, and takes back nothing else", () => {
  for (const [plain, coded] of [["AB", "BB8"], ["Hello!!", "%69 VD92EX0"], ["base-45", "UJCLQE7W581"], ["ietf!", "QED8WEX0"]] as const) {
    expect(toBase45(utf8.encode(plain))).toBe(coded);
    expect(fromBase45(coded)).toEqual(utf8.encode(plain));
  }
  expect([":::", "A", "BBa", "::"].map(fromBase45)).toEqual([null, null, null, null]); // RFC 9285, 6: values beyond 65535 are refused
});

test("the check is the CRC-32 of gzip", () => {
  expect(crc32(utf8.encode("123456789"))).toBe(0xcbf43926); // the check value of the usual catalogue of CRCs
});

test("what is packed is unpacked without any loss, with fields and kinds of a later version", () => {
  fc.assert(fc.property(anyCarried, (given) => void expect(unpack(pack(given))).toEqual(given)), { numRuns: 100 });
});

test("positions come back from their runs", () => {
  fc.assert(fc.property(fc.array(fc.nat(6)), (positions) => void expect(positionsOf(runsOf(positions))).toEqual(positions)));
});

test("codes are read in any order, again and again, and mixed with those of another transfer", () => {
  const [mine, theirs] = [codesOf(handed(played(60))), codesOf(handed(played(30, 11)))];
  fc.assert(fc.property(fc.shuffledSubarray([...mine, ...theirs, ...mine], { minLength: 2 * mine.length + theirs.length }), (texts) => {
    const all = read(texts);
    for (const codes of [mine, theirs]) {
      const { transfer } = readFrame(codes[0] as string) as Frame;
      const bytes = whole(all.find((one) => one.transfer === transfer) as Collected);
      expect(framesOf(MATCH, bytes as Uint8Array)).toEqual(codes);
    }
  }), { numRuns: 30 });
});

test("while any code is missing nothing is taken", () => {
  const codes = codesOf(handed(played(60)));
  fc.assert(fc.property(fc.subarray([...codes], { minLength: 1, maxLength: codes.length - 1 }), (texts) => void expect(whole(read(texts)[0] as Collected)).toBeNull()));
});

test("a code with a changed sign is refused", () => {
  const codes = codesOf(handed(played(12)));
  fc.assert(fc.property(fc.constantFrom(...codes), fc.nat(), fc.constantFrom(..."0A Z:"), (code, place, sign) => {
    const at = SIGN.length + (place % (code.length - SIGN.length));
    fc.pre(code[at] !== sign);
    expect(readFrame(code.slice(0, at) + sign + code.slice(at + 1))).toBe("broken");
  }));
  expect(["https://cornerwise.example/match/1", "WIFI:S:gym;;", ""].map(readFrame)).toEqual(["other", "other", "other"]);
});

test("pieces that do not belong together are refused by the check of the whole", () => {
  const [one] = read(codesOf(handed(played(30))));
  const pieces = new Map([...(one as Collected).pieces, [0, new Uint8Array(PIECE_BYTES)] as const]);
  expect(whole({ ...(one as Collected), pieces })).toBe("broken");
});

test("the first code says what is being handed over", () => {
  const [code = ""] = codesOf(handed(played(60)));
  expect(glimpse((readFrame(code) as Frame).piece)).toMatchObject({ match: MATCH, name: "Cup, first round", said: "set 2, 13\u20139" });
  expect(glimpse(new Uint8Array(3))).toBeNull();
});

test("another version, and bytes that are none of ours, are refused in words", () => {
  const bytes = pack(handed(played(3)));
  expect(() => unpack(Uint8Array.of(9, ...bytes.subarray(1)))).toThrow(/another version/);
  expect(() => unpack(bytes.subarray(0, bytes.length - 20))).toThrow(Unreadable);
  expect(() => unpack(pack({ ...handed([]), rows: [{ position: 0, event: { type: "rally_won" } as MatchEvent }] }))).toThrow(Unreadable);
  expect(() => unpack(pack({ ...handed([]), match: "another thing" }))).toThrow(Unreadable);
});

test("a match of 200 rallies is at most 30 codes, its last ten rallies at most 3", () => {
  const events = played(200);
  const bytes = pack(handed(events, 300)).length;
  console.info(`200 rallies: ${events.length} events, ${JSON.stringify(events).length} bytes of JSON, ${bytes} packed (${(bytes / events.length).toFixed(1)} an event), ${codesOf(handed(events, 300)).length} codes; the last 25 events: ${codesOf(handed(events.slice(-25))).length}`);
  expect(codesOf(handed(events, 300)).length).toBeLessThanOrEqual(30);
  expect(codesOf(handed(events.slice(-25))).length).toBeLessThanOrEqual(3);
});

/** Returns a code as a picture, each module `scale` pixels wide, in its quiet zone. */
function picture(code: readonly (readonly boolean[])[], scale: number): { width: number; height: number; data: Uint8ClampedArray } {
  const width = code.length * scale;
  const data = new Uint8ClampedArray(4 * width * width).map((_, i) => (i % 4 === 3 || !code[Math.floor(Math.floor(i / 4) / width / scale)]?.[Math.floor((Math.floor(i / 4) % width) / scale)] ? 255 : 0));
  return { width, height: width, data };
}

test("every code of a match is drawn in one size and read back from its picture", () => {
  for (const text of codesOf(handed(played(20)))) {
    const code = encodeQR(text, "raw", { encoding: "alphanumeric", version: QR_VERSION, ecc: QR_LEVEL, border: 4 });
    expect(code.length).toBe(69 + 8); // ISO/IEC 18004: 17 + 4 modules a version, quiet zone of 4
    expect(decodeQR(picture(code, 3))).toBe(text);
  }
});
