/** A roster in words. */
import type { Column, OwnServe, Role, Rostered } from "../../api/roster";
import { netHeight, of100, speed, type Units } from "../../parts/units";
import { capital, spoken } from "../../parts/words";

export const ROLE: Record<Role, string> = { setter: "Setter", outside: "Outside", opposite: "Opposite", middle: "Middle", libero: "Libero", defender: "Defender" };
export const JOB: Record<number, string> = { 1: "right back (1)", 6: "middle back (6)", 5: "left back (5)" };

export const COLUMN: Record<Column, string> = {
  number: "Number", name: "Name", role: "Role", handedness: "Hand", reach_m: "Reach, m", serve: "Kind of serve", pace_m_s: "Pace, m/s", pace_km_h: "Pace, km/h",
  pace_mph: "Pace, mph", spots: "Spots", level: "Precision like level", across_m: "Scatter across, m", along_m: "Scatter along, m", measured_serves: "Serves measured",
  error_ceiling: "May miss, share", misses_in_100: "May miss, of 100", next_job: "Next job", comes_in_for: "Comes in for",
};

/** Returns a serve in a few words: "Jump float 56 km/h, from left corner, left; may miss 12 of 100". */
export function serveInWords({ kind, speeds_m_s, spots, error_ceiling }: OwnServe, units: Units): string {
  const pace = speeds_m_s ? ` ${speeds_m_s.map((one) => speed(one, units.speed)).join(", ")}` : "";
  const from = spots ? `, from ${spots.map(spoken).join(", ")}` : "";
  return `${capital(spoken(kind))}${pace}${from}${error_ceiling === null ? "" : `, may miss ${of100(error_ceiling)} of 100`}`;
}

/** Returns what is known of a player beside number and name. */
export const playerInWords = ({ role, handedness, reach_m }: Pick<Rostered, "role" | "handedness" | "reach_m">, units: Units): string =>
  [role && ROLE[role], handedness && `${handedness}-handed`, reach_m !== null && `reaches ${netHeight(reach_m, units)}`].filter(Boolean).join(", ");
