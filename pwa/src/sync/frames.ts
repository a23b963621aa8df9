/**
 * Bytes as a short sequence of QR codes, which may be read in any order, again and again, and until all are there.
 * DEVELOPERS.md has the format for other readers.
 */
import { hex32, joined } from "./compact";

/** How every code begins; then comes base45 (RFC 9285), whose signs are those of a QR code's alphanumeric mode. */
export const SIGN = "CW1:";
const SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"; // RFC 9285, table 1

/**
 * Version 13 with error correction L: 69 modules a side, 619 signs (ISO/IEC 18004, table 7), 410 bytes after base45.
 * chosen: a code 60 mm wide, 30 cm before a camera of 1920 x 1080 pixels that sees 65 degrees, is 300 pixels wide, so a
 * module, with the quiet zone of 4 on each side, 3.9 pixels; three are needed. Level L, because a code on a screen is
 * neither torn nor dirty, and one that was missed comes round again.
 */
export const QR_VERSION = 13;
export const QR_LEVEL = "low";
const SIGNS_A_CODE = 619;
const BYTES_A_CODE = Math.floor((SIGNS_A_CODE - SIGN.length) / 3) * 2;
/** Transfer 4, match 6, which 2, of how many 2, and the check 4 at the end. */
const HEAD_BYTES = 14;
const CHECK_BYTES = 4;
export const PIECE_BYTES = BYTES_A_CODE - HEAD_BYTES - CHECK_BYTES;
const MATCH_BYTES = 6;
const MOST_CODES = 65535;

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let bit = 0; bit < 8; bit += 1) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

/** Returns the CRC-32 of some bytes (ISO/IEC 8802-3, as in gzip: RFC 1952, 8). */
export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const byte of bytes) c = (CRC_TABLE[(c ^ byte) & 255] ?? 0) ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

/** Returns bytes as signs: two bytes as three, a last one as two (RFC 9285, 3). */
export function toBase45(bytes: Uint8Array): string {
  let text = "";
  for (let i = 0; i < bytes.length; i += 2) {
    const pair = i + 1 < bytes.length;
    const value = pair ? (bytes[i] ?? 0) * 256 + (bytes[i + 1] ?? 0) : (bytes[i] ?? 0);
    text += SIGNS.charAt(value % 45) + SIGNS.charAt(Math.floor(value / 45) % 45) + (pair ? SIGNS.charAt(Math.floor(value / 2025)) : "");
  }
  return text;
}

/** Returns the bytes, or null where the text is no base45. */
export function fromBase45(text: string): Uint8Array<ArrayBuffer> | null {
  if (text.length % 3 === 1) return null;
  const bytes: number[] = [];
  for (let i = 0; i < text.length; i += 3) {
    const digits = [...text.slice(i, i + 3)].map((sign) => SIGNS.indexOf(sign));
    const value = digits.reduce((sum, digit, k) => sum + digit * 45 ** k, 0);
    if (digits.includes(-1) || value > (digits.length === 3 ? 65535 : 255)) return null;
    bytes.push(...(digits.length === 3 ? [value >>> 8, value & 255] : [value]));
  }
  return Uint8Array.from(bytes);
}

const hex16 = (value: number): Uint8Array => Uint8Array.of(value >>> 8, value & 255);
/** Returns the last six bytes of a match's id: enough to tell two matches apart. */
const tailOf = (match: string): Uint8Array => Uint8Array.from({ length: MATCH_BYTES }, (_, i) => Number.parseInt(match.replaceAll("-", "").slice(20 + 2 * i, 22 + 2 * i), 16));
export const isTailOf = (tail: string, match: string): boolean => tailOf(match).join() === tail;

/** Returns the texts of the codes that carry some bytes about a match. */
export function framesOf(match: string, bytes: Uint8Array): readonly string[] {
  const count = Math.max(1, Math.ceil(bytes.length / PIECE_BYTES));
  if (count > MOST_CODES) throw new RangeError(`too long for codes: ${bytes.length} bytes`);
  const transfer = hex32(crc32(bytes));
  return Array.from({ length: count }, (_, index) => {
    const piece = bytes.subarray(index * PIECE_BYTES, (index + 1) * PIECE_BYTES);
    const frame = joined([transfer, tailOf(match), hex16(index), hex16(count), piece]);
    return SIGN + toBase45(joined([frame, hex32(crc32(frame))]));
  });
}

export interface Frame { readonly transfer: number; readonly match: string; readonly index: number; readonly count: number; readonly piece: Uint8Array }

/** Reads one code: a frame, or "other" where the code is none of ours, or "broken". */
export function readFrame(text: string): Frame | "other" | "broken" {
  if (!text.startsWith(SIGN)) return "other";
  const bytes = fromBase45(text.slice(SIGN.length));
  if (!bytes || bytes.length < HEAD_BYTES + CHECK_BYTES) return "broken";
  const view = new DataView(bytes.buffer);
  const end = bytes.length - CHECK_BYTES;
  if (crc32(bytes.subarray(0, end)) !== view.getUint32(end)) return "broken";
  const [index, count] = [view.getUint16(10), view.getUint16(12)];
  if (index >= count) return "broken";
  return { transfer: view.getUint32(0), match: bytes.subarray(4, 10).join(), index, count, piece: bytes.subarray(HEAD_BYTES, end) };
}

/** The codes of one transfer, as far as they were read. */
export interface Collected { readonly transfer: number; readonly match: string; readonly count: number; readonly pieces: ReadonlyMap<number, Uint8Array> }

const MOST_TRANSFERS = 4; // chosen: more than the phones that show codes at the same bench

/** Returns what was collected with one frame more, its own transfer first. Those of others are kept: two phones may be shown at once. */
export function collect(before: readonly Collected[], { transfer, match, index, count, piece }: Frame): readonly Collected[] {
  const mine = before.find((one) => one.transfer === transfer && one.match === match && one.count === count) ?? { transfer, match, count, pieces: new Map<number, Uint8Array>() };
  const others = before.filter((one) => one !== mine).slice(0, MOST_TRANSFERS - 1);
  return [mine.pieces.has(index) ? mine : { ...mine, pieces: new Map([...mine.pieces, [index, piece]]) }, ...others];
}

/** Returns the bytes once all pieces are there and their check is right; null while some are missing. */
export function whole({ transfer, count, pieces }: Collected): Uint8Array<ArrayBuffer> | "broken" | null {
  if (pieces.size < count) return null;
  const bytes = joined(Array.from({ length: count }, (_, index) => pieces.get(index) ?? new Uint8Array()));
  return crc32(bytes) === transfer ? bytes : "broken";
}
