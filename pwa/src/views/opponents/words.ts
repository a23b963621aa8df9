/** Names of what is entered for an opponent. */
import type { FieldFault } from "../../api/problem";
import type { OpponentProfile } from "../../api/opponents";
import { POSITIONS } from "../../api/types";

export const LEVEL_NAMES: Readonly<Record<NonNullable<OpponentProfile["level"]>, string>> = {
  under_14: "Under 14", high_school: "High school", college: "College", elite_women: "Elite women", elite_men: "Elite men",
};

const FIELDS: readonly (readonly [RegExp, (at: number) => string])[] = [
  [/^name$/, () => "the name"],
  [/^lineup\.(\d)/, (at) => `position ${at + 1} of the line-up`],
  [/^liberos/, () => "the liberos"],
  [/^setters/, () => "who sets"],
  [/^pass_slot\.off_net_m|^pass_target/, () => "how far off the net passes go"],
  [/^ratings\.\d+\.passes/, () => "how many passes were counted"],
  [/^ratings\.\d+\.pass_grade/, () => "a mean pass grade"],
  [/^ratings/, () => "the passers’ ratings"],
  [/^notes/, () => "the notes"],
  [/^players/, () => "where they stand"],
];

/** Returns what was refused, in words. */
export function refusedInWords({ field, expected }: FieldFault): string {
  for (const [pattern, name] of FIELDS) {
    const found = pattern.exec(field);
    if (found) return `For ${name(Number(found[1] ?? 0))} it needs ${expected}.`;
  }
  return `For ${field.replaceAll(/[._]/g, " ")} it needs ${expected}.`;
}

/** In the order in which their setter comes to them: 1, 6, 5, 4, 3, 2 (FIVB 7.6.2). */
export const BY_TURN = [1, ...[...POSITIONS].reverse().slice(0, 5)] as readonly (typeof POSITIONS)[number][];
