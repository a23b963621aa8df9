/** Errors as the service sends them (RFC 9457 problem+json), and what is left of them for a reader. */

export interface FieldFault { readonly field: string; readonly value: unknown; readonly expected: string; readonly rule: string }

/** What a refusal says beside its status: of which kind it is, and of a revoked device how many of the events that it sent are held. */
export interface About { readonly kind: string; readonly held: number | null; readonly detail: string }
const NOTHING: About = { kind: "", held: null, detail: "" };

/** The service answered and refused; `faults` say which field and what was expected, `wait_s` how long it asked to be left alone. */
export class Refused extends Error {
  override readonly name = "Refused";
  constructor(readonly status: number, title: string, readonly faults: readonly FieldFault[] = [], readonly wait_s: number = 0, readonly about: About = NOTHING) {
    super(title);
  }
}

/** Nothing useful came back: no network, no server, a broken one, or not in time. */
export class Unreachable extends Error {
  override readonly name = "Unreachable";
  /** How long the service asked to be left alone. [s] */
  readonly wait_s: number;
  constructor(said: string, { wait_s = 0, ...options }: ErrorOptions & { wait_s?: number } = {}) {
    super(said, options);
    this.wait_s = wait_s;
  }
}

const isRecord = (value: unknown): value is Record<string, unknown> => typeof value === "object" && value !== null;
const text = (value: unknown): string => (typeof value === "string" ? value : "");

function faultFrom(entry: unknown): FieldFault[] {
  if (!isRecord(entry)) return [];
  return [{ field: text(entry["field"]), value: entry["value"], expected: text(entry["expected"]), rule: text(entry["rule"]) }];
}

/** Reads a problem document; anything else becomes a Refused with the status alone. */
export function refusedFrom(status: number, body: unknown, wait_s = 0): Refused {
  const problem = isRecord(body) ? body : {};
  const faults = Array.isArray(problem["errors"]) ? problem["errors"].flatMap(faultFrom) : [];
  const held = problem["held"];
  const about = { kind: text(problem["type"]), held: typeof held === "number" ? held : null, detail: text(problem["detail"]) };
  return new Refused(status, text(problem["title"]) || `The service answered ${status}`, faults, wait_s, about);
}

/** This device was signed in, and the coach has revoked it. */
export const isRevoked = (problem: unknown): problem is Refused => problem instanceof Refused && problem.about.kind === "/problems/revoked";
/** Nobody is signed in here. */
export const isSignedOut = (problem: unknown): problem is Refused => problem instanceof Refused && problem.about.kind === "/problems/signed_out";

/** The service has another log than this device knows: it was restored from a backup. */
export const isAnotherLog = (problem: unknown): boolean => problem instanceof Refused && problem.about.kind === "/problems/another_log";

/** Returns the seconds of a Retry-After header (RFC 9110, 10.2.3: seconds, or a date); 0 without a readable one. */
export function waitFrom(header: string | null, now_ms: number = Date.now()): number {
  const said = header?.trim() ?? "";
  const wait_s = /^\d+$/.test(said) ? Number(said) : (Date.parse(said) - now_ms) / 1000;
  return Number.isFinite(wait_s) ? Math.max(0, wait_s) : 0;
}
