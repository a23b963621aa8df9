/** Numbers as a reader wants them: SI comes in, the chosen units go out. */

export const LENGTHS = ["m", "ft"] as const;
export const SPEEDS = ["km/h", "mph", "m/s"] as const;
export type LengthUnit = (typeof LENGTHS)[number];
export type SpeedUnit = (typeof SPEEDS)[number];
export interface Units { readonly length: LengthUnit; readonly speed: SpeedUnit }

const FEET_PER_M = 1 / 0.3048; // international foot, exact
const PER_M_S: Record<SpeedUnit, number> = { "m/s": 1, "km/h": 3.6, mph: 3600 / 1609.344 }; // international mile, exact

export const MINUS = "\u2212";

/** Returns a number with a true minus sign and the given decimals; never "-0". */
export function plain(value: number, decimals = 1): string {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? MINUS + text : text;
}

/** Returns a number with its sign: "+1.2", "−0.4", "0.0". */
export function signed(value: number, decimals = 1): string {
  const text = plain(value, decimals);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
}

export const length = (value_m: number, unit: LengthUnit): string =>
  unit === "m" ? `${plain(value_m)} m` : `${plain(value_m * FEET_PER_M)} ft`;

/** Returns the height of a net, which differs by centimetres. */
export const netHeight = (value_m: number, { length: unit }: Units): string =>
  unit === "m" ? `${plain(value_m, 2)} m` : `${plain(value_m * FEET_PER_M, 2)} ft`;

export const speed = (value_m_s: number, unit: SpeedUnit): string => `${plain(value_m_s * PER_M_S[unit], unit === "m/s" ? 1 : 0)} ${unit}`;

/** Returns a number as it stands in a field to be changed, at most so many decimals; `...From` reads it back. */
const shortest = (value: number, decimals: number): number => Number(value.toFixed(decimals));
export const speedNumber = (value_m_s: number, unit: SpeedUnit): number => shortest(value_m_s * PER_M_S[unit], 1);
export const speedFrom = (value: number, unit: SpeedUnit): number => value / PER_M_S[unit];
export const lengthNumber = (value_m: number, unit: LengthUnit): number => shortest(unit === "m" ? value_m : value_m * FEET_PER_M, 2);
export const lengthFrom = (value: number, unit: LengthUnit): number => (unit === "m" ? value : value / FEET_PER_M);

export const degrees = (value_deg: number): string => `${plain(value_deg, 0)}°`;

/** Returns a share as a whole number of 100. */
export const of100 = (share: number): string => plain(100 * share, 0);

/** Returns a sentence of the engine, which speaks in m and m/s, in the chosen units. */
export function inUnits(sentence: string, units: Units): string {
  return sentence
    .replace(/(\d+(?:\.\d+)?) m\/s\b/g, (_, value: string) => speed(Number(value), units.speed))
    .replace(/(\d+(?:\.\d+)?) m\b(?!\/)/g, (whole, value: string) => (units.length === "m" ? whole : length(Number(value), units.length)));
}
