/** A refusal in plain words. */
import type { FieldFault } from "../api/problem";

const FIELDS: readonly (readonly [RegExp, string])[] = [
  [/^opponent\.setter_position$/, "their setter’s position"],
  [/^opponent\.setter_start/, "where their setter starts"],
  [/^opponent\.pass_target/, "the pass target"],
  [/^opponent\.passers$/, "their passers"],
  [/^opponent\.formation$/, "the number of passers"],
  [/^opponent\.system$/, "their system"],
  [/^server\.spots/, "the server’s spot"],
  [/^server\.kind$/, "the kind of serve"],
  [/^policy\.error_ceiling$/, "the error ceiling"],
  [/^net_height_m$/, "the height of the net"],
  [/^level$/, "the level"],
  [/^number$/, "the number"],
  [/^name$/, "the name"],
  [/^reach_m$/, "the reach"],
  [/^lineup/, "the line-up"],
  [/^comes_in_for/, "whom she comes in for"],
  [/^serves\.\d+\.kind/, "the kind of serve"],
  [/^serves\.\d+\.speeds_m_s/, "the pace"],
  [/^serves\.\d+\.scatter/, "the scatter"],
  [/^serves\.\d+\.error_ceiling/, "how many she may miss"],
  [/^serves\.\d+/, "the serve"],
  [/^text$/, "the table"],
];

export function fieldInWords(field: string): string {
  const passer = /^opponent\.passers\.(\d+)/.exec(field);
  if (passer) return `passer ${Number(passer[1]) + 1} of those sent`;
  const known = FIELDS.find(([pattern]) => pattern.test(field));
  return known ? known[1] : field.replaceAll(/[._]/g, " ") || "what was sent";
}

const shortly = (value: unknown): string => (typeof value === "object" ? "" : `, not ${String(value)}`);

export const faultInWords = ({ field, value, expected }: FieldFault): string => `For ${fieldInWords(field)} it needs ${expected}${shortly(value)}.`;
