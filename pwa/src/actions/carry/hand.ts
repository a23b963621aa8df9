/** Handing a match over: what of it goes into codes or a file. All of it is made on this device. */
import type { MatchDetail, MatchEvent, MatchState, ReplayAnswer } from "../../api/match";
import { showMatch } from "../../api/matches";
import { keep, recall } from "../../store/kept";
import { begunMatches, readLog, type Row } from "../../store/log";
import { carried, type Carried } from "../../sync/carried";
import { pack } from "../../sync/compact";
import { fileName, MEDIA_TYPE, writeFile } from "../../sync/file";
import { framesOf } from "../../sync/frames";
import { pull } from "../../sync/push";
import { disk } from "../match/follow";
import { live, markOf, type Live } from "../match/live";

export interface Hand {
  readonly id: string;
  readonly name: string | null;
  /** How it stands, in words; "" where the last events are not counted yet. */
  readonly said: string;
  readonly rows: readonly Row<MatchEvent>[];
}

interface Kept { readonly answer: ReplayAnswer | null; readonly counted: string; readonly detail: MatchDetail | null }

/** The match that was on the screen last, as it was shown there. */
let shownLast: Live = live.get();
live.watch(() => {
  if (live.get().id) shownLast = live.get();
});

/** Returns how a match stands, in a few words. */
export function standsAt({ status, set_number, points, sets }: MatchState): string {
  if (status === "before") return "not started";
  if (status !== "in_play") return `sets ${sets.us}\u2013${sets.them}`;
  return `set ${set_number}, ${points.us}\u2013${points.them}`;
}

/** Reads a match from this device; what the service has beside it comes too, where it can be reached. */
export async function readHand(id: string): Promise<Hand> {
  const db = await disk;
  const before = await readLog<MatchEvent>(db, id);
  if (before.length === 0) await pull(db, id, 0).catch(() => undefined);
  const [rows, onDisk, begun, listed] = await Promise.all([
    readLog<MatchEvent>(db, id), recall<Kept>(`match/${id}`), begunMatches(db), recall<{ items: readonly MatchDetail[] }>("matches"),
  ]);
  const kept = shownLast.id === id && shownLast.counted === markOf(rows) ? shownLast : onDisk;
  const mine = begun.find((match) => match.id === id);
  const about = kept?.detail ?? listed?.items.find((item) => item.id === id) ?? (mine ? undefined : await showMatch(id).catch(() => undefined));
  const teams = kept?.answer?.state.teams ?? about;
  const name = about?.name ?? mine?.name ?? (teams?.us || teams?.them ? `${teams.us ?? "We"} \u2013 ${teams.them ?? "they"}` : null);
  return { id, name, rows, said: kept?.answer && kept.counted === markOf(rows) ? standsAt(kept.answer.state) : "" };
}

/** Which part of a match is shown as codes. `skip`: how many events lie before it. */
export interface Part { readonly key: string; readonly name: string; readonly skip: number }

const LAST_RALLIES = 5; // chosen: what a second phone misses while nobody looks

/** Returns the parts one may choose: the whole match, what came from a set on, the last rallies. */
export function partsOf(rows: Hand["rows"]): readonly Part[] {
  const last = rows.at(-1)?.event;
  const from = (set: number, rally: number): number => Math.max(0, rows.findIndex(({ event }) => event.set_number > set || (event.set_number === set && event.rally_number >= rally)));
  const sets = [...new Set(rows.map(({ event }) => event.set_number))].filter((set) => set > 1).sort((a, b) => b - a);
  const parts: Part[] = [{ key: "all", name: "Whole match", skip: 0 }, ...sets.map((set) => ({ key: `set ${set}`, name: `From set ${set} on`, skip: from(set, 0) }))];
  const late = last ? from(last.set_number, last.rally_number - LAST_RALLIES + 1) : 0;
  return late > (parts[1]?.skip ?? 0) ? [...parts, { key: "last", name: `Last ${LAST_RALLIES} rallies`, skip: late }] : parts;
}

const handed = ({ id, name, said, rows }: Hand, skip = 0): Carried => carried({ match: id, name, said, origin: location.origin }, rows, skip);

/** Returns the texts of the codes that carry a part of a match. */
export const codesOf = (hand: Hand, { skip }: Part): readonly string[] => framesOf(hand.id, pack(handed(hand, skip)));

export const fileOf = (hand: Hand): File => new File([writeFile(handed(hand))], fileName(hand.name, hand.id), { type: MEDIA_TYPE });

/** Hands a file to the phone's own ways of sending; where there are none it is saved. Returns what happened. */
export async function sendFile(file: File): Promise<"sent" | "saved" | "left"> {
  if ("canShare" in navigator && navigator.canShare({ files: [file] })) {
    try {
      await navigator.share({ files: [file], title: file.name });
      return "sent";
    } catch (cause) {
      if (cause instanceof DOMException && cause.name === "AbortError") return "left";
    }
  }
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return "saved";
}

export const keepPace = (pace: number): Promise<void> => keep("pace of codes", pace);
export const recallPace = (): Promise<number | undefined> => recall<number>("pace of codes");
