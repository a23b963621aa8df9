/** A line-up while it is typed in, and as the log takes it. */
import type { EventBody, TeamSheet } from "../../api/match";
import { POSITIONS, type Position, type System } from "../../api/types";

export interface Draft {
  /** By position 1 to 6; null is not known. */
  readonly numbers: readonly (number | null)[];
  readonly liberos: readonly (number | null)[];
  /** Where those who set stand. */
  readonly setters: readonly Position[];
  readonly system: System;
}

/** What is needed of a side's state to begin a draft from it. */
interface AsItStands {
  readonly lineup: readonly { readonly number: number | null; readonly libero: boolean; readonly libero_for: number | null }[];
  readonly liberos: readonly number[];
  readonly setter_positions: readonly Position[];
  readonly system: System;
}

/** Returns a side as it stands now; a libero's place goes by the player she stands in for. */
export const draftNow = ({ lineup, liberos, setter_positions, system }: AsItStands): Draft => ({
  numbers: lineup.map((c) => (c.libero ? c.libero_for : c.number)),
  liberos: [liberos[0] ?? null, liberos[1] ?? null],
  setters: setter_positions,
  system,
});

/** Returns what a draft changes, as `lineup_corrected` takes it; null when it changes nothing. */
export function correction(before: Draft, after: Draft): Omit<Extract<EventBody, { type: "lineup_corrected" }>, "type" | "side"> | null {
  const same = (a: readonly unknown[], b: readonly unknown[]): boolean => a.length === b.length && a.every((x, i) => x === b[i]);
  const changed = after.numbers.map((n, i) => (n === before.numbers[i] ? null : n));
  const named = after.setters.flatMap((p) => after.numbers[p - 1] ?? []);
  const moved = !same(before.setters, after.setters);
  const parts = {
    ...(changed.some((n) => n !== null) && { lineup: changed }),
    ...(!same(before.liberos, after.liberos) && { liberos: after.liberos.filter((n) => n !== null) }),
    ...(before.system !== after.system && { system: after.system }),
    ...(moved && (named.length > 0 ? { setters: named } : after.setters[0] !== undefined && { setter_position: after.setters[0] })),
  };
  return Object.keys(parts).length > 0 ? parts : null;
}

export const EMPTY: Draft = { numbers: [null, null, null, null, null, null], liberos: [null, null], setters: [], system: "one_setter" };

export function draftOf({ lineup, liberos = [], setters = [], setter_position, system }: TeamSheet): Draft {
  const numbers = lineup ?? EMPTY.numbers;
  const known = POSITIONS.filter((p) => setters.includes(numbers[p - 1] ?? -1));
  return {
    numbers,
    liberos: [liberos[0] ?? null, liberos[1] ?? null],
    setters: known.length > 0 ? known : setter_position ? [setter_position] : [],
    system: system ?? "one_setter",
  };
}

/** Returns a draft as the log takes it; a setter without a number is given by where she stands. */
export function sheetOf({ numbers, liberos, setters, system }: Draft): TeamSheet {
  const named = setters.flatMap((p) => numbers[p - 1] ?? []);
  const known = liberos.filter((n) => n !== null);
  return {
    ...(numbers.some((n) => n !== null) && { lineup: numbers }),
    ...(known.length > 0 && { liberos: known }),
    ...(named.length > 0 ? { setters: named } : setters[0] !== undefined && { setter_position: setters[0] }),
    ...(system !== "one_setter" && { system }),
  };
}

/** Returns what stands twice, so that it can be said before the log refuses it. */
export function twice({ numbers, liberos }: Draft): number[] {
  const all = [...numbers, ...liberos].filter((n) => n !== null);
  return [...new Set(all.filter((n, i) => all.indexOf(n) !== i))];
}

/** Returns a draft with a number in one of its eight slots: the six positions, then two liberos. */
export function withNumber(draft: Draft, slot: number, number: number | null): Draft {
  const put = (list: readonly (number | null)[], at: number) => list.map((old, i) => (i === at ? number : old));
  return slot < 6 ? { ...draft, numbers: put(draft.numbers, slot) } : { ...draft, liberos: put(draft.liberos, slot - 6) };
}

/** Marks who sets; a second tap takes the mark away. In a system of two there may be two, else one. */
export function withSetter(draft: Draft, position: Position): Draft {
  if (draft.setters.includes(position)) return { ...draft, setters: draft.setters.filter((p) => p !== position) };
  return { ...draft, setters: draft.system === "one_setter" ? [position] : [...draft.setters, position].slice(-2) };
}

/** Returns a line-up in one line: "4 11 7 2 15 9, setter 4, libero 13". */
export function inOneLine({ numbers, setters, liberos }: Draft): string {
  const known = numbers.some((n) => n !== null) ? numbers.map((n) => n ?? "?").join(" ") : "";
  const who = setters.map((p) => (numbers[p - 1] === null ? `in ${p}` : String(numbers[p - 1]))).join(", ");
  const free = liberos.filter((n) => n !== null).join(", ");
  return [known, who && `setter ${who}`, free && `libero ${free}`].filter(Boolean).join(", ");
}

/** Types a digit after what is there; a third digit begins anew. Shirts go from 0 to 99. */
export function typed(before: number | null, digit: number): number {
  return before === null || before > 9 || before === 0 ? digit : before * 10 + digit;
}
