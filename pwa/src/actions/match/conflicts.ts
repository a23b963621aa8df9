/**
 * Where two devices that did not know of each other said different things, and how one tap settles it.
 *
 * The engine counts the first that was accepted. Settling takes back everything that was said at that place and says the chosen
 * anew: so what was chosen stands even when another coach settles at the same moment. If she chooses otherwise, the first of
 * the two choices counts on every device, and the difference is shown again. All of it stays in the record.
 */
import type { Contradiction, EventBody, MatchEvent, Parts } from "../../api/match";
import type { Row } from "../../store/log";
import { dropped, isResult } from "./standing";
import type { Place } from "./taps";
import { FIRST_BALL, ERROR, GRADE, inWords } from "./words";

type Placed = EventBody & { readonly at: Place };

export interface Choice {
  readonly label: string;
  readonly own: boolean;
  /** What settles it this way. */
  readonly settles: readonly Placed[];
}

export interface Conflict {
  readonly key: string;
  readonly place: Place;
  readonly counted: Choice;
  readonly other: Choice;
  /** Both were counted, one after the other. */
  readonly both: boolean;
  /** The events that are at odds. */
  readonly ids: readonly string[];
}

type Rows = readonly Row<MatchEvent>[];

const PARTS = ["grade", "error", "first_ball", "passer", "landing", "spot", "kind", "speed_m_s"] as const satisfies readonly (keyof Parts)[];
type Part = (typeof PARTS)[number];

/** Returns the conflicts of a log, the latest first. `contradictions`: what the engine says of it. */
export function conflictsOf(rows: Rows, contradictions: readonly Contradiction[], device: string): Conflict[] {
  const gone = dropped(rows.map(({ event }) => event));
  const standing = rows.filter(({ id }) => !gone.has(id));
  const said = contradictions.flatMap((contradiction) => fromEngine(standing, contradiction, device) ?? []);
  const taken = new Set(said.flatMap(({ ids }) => ids));
  const blind = unaware(standing, device).filter(({ ids }) => !ids.some((id) => taken.has(id)));
  return [...said, ...blind].sort((a, b) => b.place.set_number - a.place.set_number || b.place.rally_number - a.place.rally_number);
}

// --- what the engine contradicts: one place, several sayings ---

const sameSet = (a: MatchEvent, b: MatchEvent): boolean => a.set_number === b.set_number;
const sameRally = (a: MatchEvent, b: MatchEvent): boolean => sameSet(a, b) && a.rally_number === b.rally_number;
const ends = (event: MatchEvent): boolean => event.type === "match_ended" || event.type === "match_abandoned" || (event.type === "forfeited" && event.scope === "match");

/** Which events say the same kind of thing of the same place as an event does. */
const SLOTS: Readonly<Record<string, (at: MatchEvent) => (event: MatchEvent) => boolean>> = {
  conflicting_result: (at) => (event) => isResult(event) && sameRally(at, event),
  conflicting_set_start: (at) => (event) => event.type === "set_started" && sameSet(at, event),
  conflicting_match: () => (event) => event.type === "match_opened",
  conflicting_set_end: (at) => (event) => event.type === "set_ended" && sameSet(at, event),
  conflicting_match_end: () => ends,
};

function fromEngine(standing: Rows, { code, event_id, expected, seen }: Contradiction, device: string): Conflict | null {
  const second = standing.find(({ id }) => id === event_id);
  if (!second) return null;
  if (code === "conflicting_part") return aPart(standing, second, expected, seen, device);
  const slot = SLOTS[code]?.(second.event);
  const all = slot ? standing.filter(({ event }) => slot(event)) : [];
  const first = all[0];
  if (!first || first.id === second.id) return null;
  const settled = (chosen: Row<MatchEvent>): Choice => choice(inWords(chosen.event), chosen, device, all, [code === "conflicting_result" ? withDetails(chosen, all) : again(chosen.event)]);
  return { key: `${code}/${event_id}`, place: placeOf(second.event), counted: settled(first), other: settled(second), both: false, ids: all.map(({ id }) => id) };
}

/** Two values of one part of a serve: the events that carry it are said anew, with the value chosen. */
function aPart(standing: Rows, second: Row<MatchEvent>, kept: unknown, given: unknown, device: string): Conflict | null {
  const rally = standing.filter(({ event }) => sameRally(event, second.event));
  const carrying = (part: Part, value: unknown): Row<MatchEvent> | undefined => rally.find(({ event }) => alike(valueOf(event, part), value));
  const part = PARTS.find((name) => alike(valueOf(second.event, name), given) && carrying(name, kept));
  const first = part && carrying(part, kept);
  if (!part || !first) return null;
  const all = rally.filter(({ event }) => valueOf(event, part) !== undefined);
  const result = all.find(({ event }) => event.type === "rally_won") ?? first;
  const anew = (value: unknown): Placed => ({ ...noted(again(result.event)), ...partsOf(all), [part]: value }) as Placed;
  const settled = (row: Row<MatchEvent>, value: unknown): Choice => choice(partInWords(part, value), row, device, all, [anew(value)]);
  return { key: `conflicting_part/${second.id}/${part}`, place: placeOf(second.event), counted: settled(first, kept), other: settled(second, given), both: false, ids: all.map(({ id }) => id) };
}

// --- what the engine lets stand: corrections and substitutions that did not know of each other ---

const CORRECTIONS: readonly MatchEvent["type"][] = ["score_corrected", "lineup_corrected", "server_corrected"];
const CHANGES: readonly MatchEvent["type"][] = ["substituted", "exceptionally_substituted", "libero_replaced"];

function unaware(standing: Rows, device: string): Conflict[] {
  const changes = standing.filter(({ event }) => CORRECTIONS.includes(event.type) || CHANGES.includes(event.type));
  return changes.flatMap((second, i) => {
    const first = changes.slice(0, i).find((row) => didNotKnow(second, row) && atOdds(row.event, second.event));
    if (!first) return [];
    const all = [first, second];
    const settled = (row: Row<MatchEvent>): Choice => choice(inWords(row.event), row, device, all, [again(row.event)]);
    const both = CORRECTIONS.includes(second.event.type);
    return [{ key: `unaware/${second.id}`, place: placeOf(second.event), counted: settled(first), other: settled(second), both, ids: all.map(({ id }) => id) }];
  });
}

/** Whether a later event was logged on another device that had not seen the earlier one. */
const didNotKnow = (later: Row<MatchEvent>, earlier: Row<MatchEvent>): boolean =>
  later.event.device !== earlier.event.device && earlier.position > 0 && later.event.seen < earlier.position;

function atOdds(a: MatchEvent, b: MatchEvent): boolean {
  if (a.type !== b.type || !sameSet(a, b) || sideOf(a) !== sideOf(b)) return false;
  if (CORRECTIONS.includes(a.type)) return sameRally(a, b) && !alike(bodyOf(a), bodyOf(b));
  const [x, y] = [a, b] as { enters?: number; leaves?: number }[] as [{ enters?: number; leaves?: number }, { enters?: number; leaves?: number }];
  const shares = (x.enters !== undefined && x.enters === y.enters) || (x.leaves !== undefined && x.leaves === y.leaves);
  return shares && !(sameRally(a, b) && alike(bodyOf(a), bodyOf(b)));
}

// --- the same said anew ---

const placeOf = ({ set_number, rally_number }: MatchEvent): Place => ({ set_number, rally_number });
const sideOf = (event: MatchEvent): unknown => ("side" in event ? event.side : null);
const alike = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
const valueOf = (event: MatchEvent, part: Part): unknown => (event as Parts)[part] ?? undefined;

function bodyOf({ id: _, device: _d, counter: _c, set_number: _s, rally_number: _r, seen: _k, ...body }: MatchEvent): EventBody {
  return body as EventBody;
}

const again = (event: MatchEvent): Placed => ({ ...bodyOf(event), at: placeOf(event) });

/** A grade or a detail said anew becomes a note of the serve, whatever it was; a result stays one. */
const noted = (body: Placed): Placed => (body.type === "rally_won" ? body : ({ type: "serve_noted", at: body.at } as Placed));

/** Returns the parts that some events carry, the first value of each. */
const partsOf = (rows: Rows): Parts =>
  Object.fromEntries(PARTS.flatMap((part) => {
    const value = rows.map(({ event }) => valueOf(event, part)).find((known) => known !== undefined);
    return value === undefined ? [] : [[part, value]];
  })) as Parts;

/** A result said anew, with the details of the others, where the rally ended in play: a missed serve or an ace has its own. */
function withDetails(chosen: Row<MatchEvent>, all: Rows): Placed {
  const body = again(chosen.event);
  if (body.type !== "rally_won" || body.ending) return body;
  const { error: _, grade, ...others } = partsOf(all.filter(({ id }) => id !== chosen.id));
  return { ...others, ...(grade && { grade }), ...body } as Placed;
}

function choice(label: string, row: Row<MatchEvent>, device: string, all: Rows, anew: readonly Placed[]): Choice {
  const at = placeOf(row.event);
  const back = [...all].reverse().map(({ id }): Placed => ({ type: "retracted", event_id: id, at }));
  return { label, own: row.event.device === device, settles: [...back, ...anew] };
}

function partInWords(part: Part, value: unknown): string {
  if (part === "grade") return `pass ${value}: ${GRADE[value as keyof typeof GRADE] ?? ""}`;
  if (part === "error") return `missed: ${ERROR[value as keyof typeof ERROR] ?? value}`;
  if (part === "first_ball") return `first ball: ${FIRST_BALL[value as keyof typeof FIRST_BALL] ?? value}`;
  if (part === "passer") return `#${value} passed`;
  const { x_m, y_m } = (typeof value === "object" && value ? value : {}) as { x_m?: number; y_m?: number };
  if (x_m !== undefined && y_m !== undefined) return `${part === "landing" ? "landed" : "served"} ${Math.abs(x_m).toFixed(1)} m ${x_m < 0 ? "left" : "right"}, ${y_m.toFixed(1)} m`;
  return part === "speed_m_s" ? `${Number(value).toFixed(0)} m/s` : String(value).replaceAll("_", " ");
}

const small = (label: string): string => label.charAt(0).toLowerCase() + label.slice(1);

/** Returns a conflict in a sentence: who said what, and what counts. */
export function conflictInWords({ place, counted, other, both }: Conflict, set_number: number): string {
  const where = `${place.set_number > 0 && place.set_number !== set_number ? `Set ${place.set_number}, r` : "R"}ally ${place.rally_number}`;
  const said = counted.own
    ? `this phone says ${small(counted.label)}, ${other.own ? "and then" : "another says"} ${small(other.label)}`
    : `${other.own ? "this phone" : "one phone"} says ${small(other.label)}, another says ${small(counted.label)}`;
  return `${where}: ${said}. ${both ? "Both were put in, one after the other." : `Counted: ${small(counted.label)}.`}`;
}
