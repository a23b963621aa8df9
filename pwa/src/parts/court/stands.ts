import { SPOT_NAMES, type Spot } from "../../api/types";

/** Returns one place for each name of a spot, the middle one where several bear it: five places, as far from each other. */
export function stands(spots: readonly Spot[]): Spot[] {
  return SPOT_NAMES.flatMap((name) => {
    const of = spots.filter((spot) => spot.name === name);
    return of[Math.floor(of.length / 2)] ?? [];
  });
}
