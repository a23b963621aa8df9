/** Our teams as they were last seen: kept on this device, so that names and serves are there without a network. */
import { forget, keep, recall } from "./kept";

/** A team; what else it holds this room does not look into. */
interface Kept { readonly id: string; readonly name: string; readonly changed_at: string }

const NAME = "teams";

export const keptTeams = async <T extends Kept>(): Promise<readonly T[]> => (await recall<readonly T[]>(NAME)) ?? [];
export const keepTeams = (teams: readonly Kept[]): Promise<void> => keep(NAME, teams);
export const forgetTeams = (): Promise<void> => forget(NAME);

/** Returns the teams as they are kept after a list was seen: what is new or changed comes from `fetched`, what is not listed is gone. */
export function renewed<T extends Kept>(kept: readonly T[], listed: readonly Kept[], fetched: readonly T[]): readonly T[] {
  return listed.flatMap(({ id }) => fetched.find((team) => team.id === id) ?? kept.find((team) => team.id === id) ?? []);
}

/** Returns which of the listed teams have to be fetched: those that are not here as they are there. */
export const outdated = <L extends Kept>(kept: readonly Kept[], listed: readonly L[]): readonly L[] =>
  listed.filter(({ id, changed_at, name }) => !kept.some((team) => team.id === id && team.changed_at === changed_at && team.name === name));
