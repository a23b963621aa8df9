/** Taking a match over: codes one after the other, or a file. */
import type { MatchEvent } from "../../api/match";
import { recall } from "../../store/kept";
import { begunMatches, readLog } from "../../store/log";
import { createStore } from "../../store/store";
import { preview, takeOver, type Carried, type Taken } from "../../sync/carried";
import { glimpse, unpack, Unreadable } from "../../sync/compact";
import { MOST_BYTES, readFile, type Fault } from "../../sync/file";
import { collect, readFrame, whole, type Collected } from "../../sync/frames";
import { disk } from "../match/follow";

export interface Took extends Taken { readonly match: string; readonly name: string | null; readonly said: string }

export interface Taking {
  /** The transfers seen so far, the one last seen first. */
  readonly seen: readonly Collected[];
  /** What the first code said of it. */
  readonly about: { readonly name: string | null; readonly said: string } | null;
  /** A code that is none of ours was last before the camera. */
  readonly other: boolean;
  readonly took: Took | null;
  /** A file that was read and waits for a yes. */
  readonly offered: { readonly carried: Carried; readonly brings: Taken } | null;
  readonly faults: readonly Fault[];
  readonly failed: string;
}

const NOTHING: Taking = { seen: [], about: null, other: false, took: null, offered: null, faults: [], failed: "" };
export const taking = createStore<Taking>(NOTHING);
export const beginTaking = (): void => taking.set(NOTHING);

/** Takes what the camera read; once the last code is there, the match is taken over. */
export async function readCode(text: string): Promise<void> {
  const frame = readFrame(text);
  if (frame === "other") return taking.set({ other: true });
  if (frame === "broken") return;
  const before = taking.get();
  const seen = collect(before.seen, frame);
  if (seen[0] === before.seen[0] && !before.other) return;
  const [now] = seen;
  if (!now) return;
  const first = now.pieces.get(0);
  taking.set({ seen, other: false, about: first ? glimpse(first) : null });
  const bytes = whole(now);
  if (bytes === "broken") return taking.set({ seen: seen.slice(1), about: null });
  if (bytes) await takeBytes(bytes);
}

async function takeBytes(bytes: Uint8Array): Promise<void> {
  try {
    await take(unpack(bytes));
  } catch (problem) {
    taking.set({ seen: [], about: null, failed: problem instanceof Unreadable ? problem.message : NOT_SAVED });
  }
}

const NOT_SAVED = "It could not be saved on this device: there may be no room left. Nothing was taken over.";

async function take(carried: Carried): Promise<void> {
  const brings = await takeOver(await disk, carried, location.origin);
  taking.set({ took: { ...brings, match: carried.match, name: carried.name, said: carried.said }, seen: [], offered: null, faults: [], failed: "" });
}

/** Reads a file and says what it would bring; nothing of it is taken over yet. */
export async function offerFile(file: File): Promise<void> {
  taking.set({ ...NOTHING });
  if (file.size > MOST_BYTES) return taking.set({ failed: `${file.name} has ${Math.round(file.size / 1e6)} MB. A match file has at most ${MOST_BYTES / 1e6} MB.` });
  const read = readFile(await file.text());
  if ("faults" in read) return taking.set({ faults: read.faults });
  taking.set({ offered: { carried: read.carried, brings: await preview(await disk, read.carried) } });
}

export async function acceptFile(): Promise<void> {
  const { offered } = taking.get();
  if (offered) await take(offered.carried).catch(() => taking.set({ failed: NOT_SAVED }));
}

export interface Here { readonly id: string; readonly name: string | null; readonly set_number: number; readonly rally_number: number }

const MOST_SHOWN = 3; // chosen: the matches one is asked about are the latest

/** Returns up to where the latest matches on this device go. */
export async function matchesHere(): Promise<readonly Here[]> {
  const db = await disk;
  const listed = await recall<{ items: readonly { id: string; name: string | null }[] }>("matches");
  const known = [...(await begunMatches(db)).filter(({ begun }) => !begun), ...(listed?.items ?? [])];
  const ids = [...new Map(known.map((match) => [match.id, match.name] as const))].sort(([a], [b]) => (a < b ? 1 : -1)).slice(0, MOST_SHOWN);
  const here = await Promise.all(ids.map(async ([id, name]): Promise<Here[]> => {
    const last = (await readLog<MatchEvent>(db, id)).at(-1)?.event;
    return last ? [{ id, name, set_number: last.set_number, rally_number: last.rally_number }] : [];
  }));
  return here.flat();
}
