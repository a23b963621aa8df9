/** Requests, typed; every failure is either Refused or Unreachable. */
import { Refused, refusedFrom, Unreachable, waitFrom } from "./problem";
import type { AimedAnswer, AimedRequest, CallAnswer, CallRequest, Stock } from "./types";

const BASE = "/api/v1";
const PATIENCE_MS = 8000; // chosen: longer than any answer takes, shorter than a coach waits

/** Asks the service; an answer without a body (204) is null. */
export async function send(path: string, init: RequestInit, patience_ms = PATIENCE_MS): Promise<unknown> {
  let response: Response;
  try {
    response = await fetch(BASE + path, { ...init, signal: AbortSignal.timeout(patience_ms) });
  } catch (cause) {
    throw new Unreachable("nothing came back", { cause });
  }
  if (response.status === 204) return null;
  const body: unknown = await response.json().catch(() => undefined);
  const wait_s = waitFrom(response.headers.get("Retry-After"));
  if (response.status >= 500) throw new Unreachable(`the service answered ${response.status}`, { wait_s });
  if (!response.ok) throw refusedFrom(response.status, body, wait_s);
  if (body === undefined) throw new Refused(response.status, "The answer could not be read", []);
  return body;
}

/** Returns a request with a JSON body. */
export const withBody = (method: "POST" | "PATCH" | "PUT", body: unknown): RequestInit => ({
  method, headers: { "Content-Type": "application/json", Accept: "application/json" }, body: JSON.stringify(body),
});

export async function postCall(request: CallRequest): Promise<CallAnswer> {
  return (await send("/calls", withBody("POST", request))) as CallAnswer;
}

export async function postAimed(request: AimedRequest): Promise<AimedAnswer> {
  return (await send("/aimed", withBody("POST", request))) as AimedAnswer;
}

export async function getStock(): Promise<Stock> {
  return (await send("/stock", { headers: { Accept: "application/json" } })) as Stock;
}
