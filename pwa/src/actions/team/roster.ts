/** Our teams: as kept on this device, made fresh whenever the service answers. */
import { getTeam, listTeams, type Rostered, type Team, type TeamDetail } from "../../api/roster";
import { Refused } from "../../api/problem";
import { forgetTeams, keepTeams, keptTeams, outdated, renewed } from "../../store/roster";
import { createStore } from "../../store/store";

export interface Roster {
  readonly teams: readonly TeamDetail[];
  /** asking; there: as the service has it; gone: it cannot be reached; barred: it wants to know who asks. */
  readonly state: "asking" | "there" | "gone" | "barred";
}

export const roster = createStore<Roster>({ teams: [], state: "asking" });

let woken: Promise<void> | undefined;

/** Reads what is kept on this device, once. */
export const wakeRoster = (): Promise<void> =>
  (woken ??= keptTeams<TeamDetail>().then((teams) => void (roster.get().teams.length === 0 && roster.set({ teams }))));

let refreshing: Promise<void> | undefined;

/** Fetches what has changed; without the service what is kept stays. */
export function refreshRoster(): Promise<void> {
  return (refreshing ??= refresh().finally(() => void (refreshing = undefined)));
}

/** Fetches what has changed of the teams that are kept here, so that whom the club deleted goes from here too; without any does nothing. */
export async function renewKept(): Promise<void> {
  await wakeRoster();
  if (roster.get().teams.length > 0) await refreshRoster();
}

/** Fetches until no team was changed here meanwhile: a list from before would take a new one away again. */
async function refresh(): Promise<void> {
  await wakeRoster();
  const before = forgotten;
  try {
    for (let asOf = -1; asOf !== changes; ) {
      asOf = changes;
      const listed = await all();
      const fetched: TeamDetail[] = [];
      for (const { id } of outdated(roster.get().teams, listed)) fetched.push(await getTeam(id));
      if (before !== forgotten) return;
      if (asOf === changes) await show(renewed(roster.get().teams, listed, fetched));
    }
  } catch (problem) {
    const barred = problem instanceof Refused && (problem.status === 401 || problem.status === 403);
    roster.set({ state: barred ? "barred" : "gone" });
  }
}

async function all(): Promise<readonly Team[]> {
  const found: Team[] = [];
  for (let next: string | null | undefined; next !== null; ) {
    const page: { items: readonly Team[]; next: string | null } = await listTeams(next ?? null);
    found.push(...page.items);
    next = page.next;
  }
  return found;
}

async function show(teams: readonly TeamDetail[]): Promise<void> {
  const sorted = [...teams].sort((a, b) => a.name.localeCompare(b.name));
  const changed = JSON.stringify(sorted) !== JSON.stringify(roster.get().teams);
  roster.set({ ...(changed && { teams: sorted }), state: "there" });
  if (changed) await keepTeams(sorted);
}

let changes = 0;

/** Shows and keeps one team as the service has just given it. */
export function took(team: TeamDetail): Promise<void> {
  changes += 1;
  return show([...roster.get().teams.filter(({ id }) => id !== team.id), team]);
}

export function dropped(id: string): Promise<void> {
  changes += 1;
  return show(roster.get().teams.filter((team) => team.id !== id));
}

let forgotten = 0;

/** Removes all teams from this device: it was signed out, or is not let in any more. */
export async function forgetRoster(): Promise<void> {
  forgotten += 1;
  roster.set({ teams: [], state: "barred" });
  await forgetTeams();
}

const tidy = (name: string): string => name.trim().split(/\s+/).join(" ");

/** Returns our team of a name, as a match has it. */
export const teamNamed = (name: string | null | undefined, { teams }: Roster = roster.get()): TeamDetail | undefined =>
  name ? teams.find((team) => team.name === tidy(name)) : undefined;

/** Returns the player with a number in the team of a name, null if there is none. */
export const playerOf = (team: string | null | undefined, number: number | null, now: Roster = roster.get()): Rostered | null =>
  number === null ? null : (teamNamed(team, now)?.roster.find((one) => one.number === number) ?? null);

/** Returns a player with her name, where it is known: "#4 Ilse Marn". */
export const called = (team: string | null | undefined, number: number, now: Roster = roster.get()): string => {
  const name = playerOf(team, number, now)?.name;
  return name ? `#${number} ${name}` : `#${number}`;
};
