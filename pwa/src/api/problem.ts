/** Errors as the service sends them (RFC 9457 problem+json), and what is left of them for a reader. */

export interface FieldFault { readonly field: string; readonly value: unknown; readonly expected: string; readonly rule: string }

/** The service answered and refused; `faults` say which field and what was expected. */
export class Refused extends Error {
  override readonly name = "Refused";
  constructor(readonly status: number, title: string, readonly faults: readonly FieldFault[] = []) {
    super(title);
  }
}

/** Nothing useful came back: no network, no server, a broken one, or not in time. */
export class Unreachable extends Error {
  override readonly name = "Unreachable";
}

const isRecord = (value: unknown): value is Record<string, unknown> => typeof value === "object" && value !== null;
const text = (value: unknown): string => (typeof value === "string" ? value : "");

function faultFrom(entry: unknown): FieldFault[] {
  if (!isRecord(entry)) return [];
  return [{ field: text(entry["field"]), value: entry["value"], expected: text(entry["expected"]), rule: text(entry["rule"]) }];
}

/** Reads a problem document; anything else becomes a Refused with the status alone. */
export function refusedFrom(status: number, body: unknown): Refused {
  const problem = isRecord(body) ? body : {};
  const faults = Array.isArray(problem["errors"]) ? problem["errors"].flatMap(faultFrom) : [];
  return new Refused(status, text(problem["title"]) || `The service answered ${status}`, faults);
}
