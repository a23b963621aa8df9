/** What is known of an opponent while it is typed in, and as the service takes it. */
import type { OpponentChange, OpponentProfile, Rating } from "../../api/opponents";
import type { TeamSheet } from "../../api/match";
import type { Position } from "../../api/types";
import { draftOf, type Draft } from "../match/sheet";

export type Rated = NonNullable<Rating["rating"]> | "counted";

/** One passer: a word for her, or (counted) a mean grade over so many passes, as typed. */
export interface RatingRow { readonly number: number; readonly rated: Rated; readonly grade: string; readonly passes: string }

export interface OpponentSheet {
  readonly name: string;
  readonly level: OpponentProfile["level"];
  readonly lineup: Draft;
  /** Which ninth of the net their passes go to, from their left, and how far off the net; "" is not known. */
  readonly slot: string;
  readonly off_net_m: string;
  readonly faces: "left" | "right" | "";
  readonly ratings: readonly RatingRow[];
  readonly notes: string;
}

const typed = (value: number | null | undefined): string => (value === null || value === undefined ? "" : String(value));

const rowOf = ({ number, rating, pass_grade, passes }: Rating): RatingRow => ({
  number, rated: typeof pass_grade === "number" ? "counted" : (rating ?? "unknown"), grade: typed(pass_grade), passes: typed(passes),
});

/** Returns how they start a set, as a match's log takes it. */
export const sheetFor = ({ lineup, liberos, setters, setter_position, system }: OpponentProfile): TeamSheet => ({
  ...(lineup && { lineup }), liberos, setters, system, ...(setter_position && { setter_position: setter_position as Position }),
});

export function sheetOf(profile: OpponentProfile): OpponentSheet {
  const { name, level, pass_slot, setter_faces, ratings, notes } = profile;
  return {
    name, level, slot: typed(pass_slot?.slot), off_net_m: typed(pass_slot?.off_net_m), faces: setter_faces ?? "", ratings: ratings.map(rowOf), notes: notes ?? "",
    lineup: draftOf(sheetFor(profile)),
  };
}

/** Returns the numbers whose passing can be rated: the line-up, the liberos, and whoever is rated already. */
export function passersOf({ lineup: { numbers, liberos }, ratings }: OpponentSheet): number[] {
  const all = [...numbers, ...liberos].filter((n) => n !== null);
  return [...new Set([...all, ...ratings.map(({ number }) => number)])];
}

export const ratingFor = ({ ratings }: OpponentSheet, number: number): RatingRow =>
  ratings.find((row) => row.number === number) ?? { number, rated: "unknown", grade: "", passes: "" };

export const withRating = (sheet: OpponentSheet, row: RatingRow): OpponentSheet => ({
  ...sheet, ratings: [...sheet.ratings.filter(({ number }) => number !== row.number), row],
});

const DEFAULT_OFF_NET_M = 1; // chosen: what is shown when only the slot is said

const ratingGiven = ({ number, rated, grade, passes }: RatingRow): Rating =>
  rated === "counted" ? { number, ...(grade !== "" && { pass_grade: Number(grade) }), ...(passes !== "" && { passes: Number(passes) }) } : { number, rating: rated };

/** Returns a sheet as the service takes it; what is empty is cleared. */
export function changeOf(sheet: OpponentSheet, before: OpponentProfile): OpponentChange {
  const { numbers, liberos, setters, system } = sheet.lineup;
  const named = setters.flatMap((position) => numbers[position - 1] ?? []);
  const was = sheetOf(before);
  const moved = sheet.slot !== was.slot || sheet.off_net_m !== was.off_net_m;
  const off_net_m = sheet.off_net_m === "" ? DEFAULT_OFF_NET_M : Number(sheet.off_net_m);
  return {
    name: sheet.name, level: sheet.level, system, setters: named, liberos: liberos.filter((n) => n !== null),
    lineup: numbers.some((n) => n !== null) ? numbers : null,
    setter_position: named.length > 0 ? null : (setters[0] ?? null),
    ...(moved && (sheet.slot === "" ? { pass_target: null } : { pass_slot: { slot: Number(sheet.slot), off_net_m } })),
    setter_faces: sheet.faces || null,
    ratings: sheet.ratings.filter(({ rated }) => rated !== "unknown").map(ratingGiven),
    notes: sheet.notes.trim() || null,
  };
}
