/** A new match, and the start of each set. */
import { v7 } from "uuid";
import type { EventBody, Opponent, Profile, ProfileAsked, ProfileName, Side, TeamSheet } from "../../api/match";
import type { ListedOpponent } from "../../api/opponents";
import type { TeamDetail } from "../../api/roster";
import { POSITIONS, type Level } from "../../api/types";
import { keep, recall } from "../../store/kept";
import { createStore } from "../../store/store";
import { bringOne } from "../opponents/list";
import { sheetFor } from "../opponents/sheet";
import { go, matchPath } from "../route";
import { exchangeSoon } from "./exchange";
import { log, write } from "./log";
import { prefer, prefs } from "./prefs";
import { draftOf, EMPTY, sheetOf, type Draft } from "./sheet";

export interface Setup {
  readonly us: string;
  readonly them: string;
  readonly profile: ProfileName;
  /** Rules changed for this match, by field. */
  readonly rules: Readonly<Record<string, number>>;
  readonly level: Level;
  readonly net_height_m: number | null;
  readonly ours: Draft;
  readonly theirs: Draft;
  /** The opponent that was picked is not on this device, and the service cannot be reached. */
  readonly away: boolean;
  /** It could not be written to the disk. */
  readonly unsaved: boolean;
}

const START: Setup = { us: "", them: "", profile: "fivb_2025_2028", rules: {}, level: "high_school", net_height_m: null, ours: EMPTY, theirs: EMPTY, away: false, unsaved: false };

export const setup = createStore<Setup>(START);

/** Begins with what stays the same from match to match: our side, the rules, the level. */
export async function wakeSetup(): Promise<void> {
  const kept = await recall<Partial<Setup>>("our-side");
  setup.set({ ...START, ...kept });
}

export function against({ name, sheet, level }: Pick<Opponent, "name" | "level"> & { readonly sheet: TeamSheet }): void {
  setup.set({ them: name, away: false, theirs: draftOf(sheet), ...(level && { level }) });
}

/** Takes a prepared opponent: as it was entered, or by its name alone where this device does not have the rest. */
export async function againstPrepared(listed: ListedOpponent): Promise<void> {
  const { name } = listed;
  setup.set({ them: name, away: false });
  const profile = await bringOne(listed);
  if (setup.get().them !== name) return; // another one was picked meanwhile
  if (profile) against({ name, level: profile.level, sheet: sheetFor(profile) });
  else setup.set({ theirs: EMPTY, away: true });
}

/** Fills in our side from a team that was entered: its name, level, usual line-up and liberos. */
export function playAs({ name, level, lineup, roster }: TeamDetail): void {
  const free = roster.filter(({ role }) => role === "libero").map(({ number }) => number);
  const setters = POSITIONS.filter((p) => roster.some(({ number, role }) => role === "setter" && number === lineup?.[p - 1]));
  setup.set({
    us: name, ours: { ...EMPTY, numbers: lineup ?? EMPTY.numbers, liberos: [free[0] ?? null, free[1] ?? null], setters: setters.slice(0, 1) },
    ...(level && { level, net_height_m: null }),
  });
}

const profileOf = ({ profile, rules }: Setup): ProfileAsked => (Object.keys(rules).length > 0 ? { name: profile, ...rules } : profile);

const opened = (now: Setup): EventBody => ({
  type: "match_opened", profile: profileOf(now), level: now.level,
  ...(now.us.trim() && { us: now.us.trim() }), ...(now.them.trim() && { them: now.them.trim() }),
});

/** Begins the match: it is on the disk before it is on the screen, with its first events or not at all. */
export async function beginMatch(serving_first: Side): Promise<void> {
  const now = setup.get();
  const id = v7();
  const { us, profile, rules, level, net_height_m, ours } = now;
  setup.set({ unsaved: false });
  const start: EventBody = { type: "set_started", serving_first, us: sheetOf(ours), them: sheetOf(now.theirs) };
  const begins = { id, name: now.them.trim() ? `Against ${now.them.trim()}` : null, begun: false, since_ms: Date.now() };
  try {
    await write(id, [{ ...opened(now), at: { set_number: 0, rally_number: 0 } }, start], { said: "" }, { set_number: 1, rally_number: 1 }, begins);
  } catch {
    return setup.set({ unsaved: true });
  }
  await keep("our-side", { us, profile, rules, level, net_height_m, ours });
  if (net_height_m !== null) prefer({ nets: { ...prefs.get().nets, [id]: net_height_m } });
  exchangeSoon();
  go(matchPath(id));
}

/** Starts the next set with these line-ups. */
export async function startSet(set_number: number, serving_first: Side, us: Draft, them: Draft): Promise<void> {
  await log([{ type: "set_started", serving_first, us: sheetOf(us), them: sheetOf(them), at: { set_number, rally_number: 1 } }], { said: `start of set ${set_number}` });
}

/** The rules that can be changed one by one, with their names. */
export const RULES: readonly (readonly [keyof Profile | string, string, number, number])[] = [
  ["sets_to_win", "Sets to win", 1, 5],
  ["points", "Points of a set", 1, 99],
  ["deciding_points", "Points of the deciding set", 1, 99],
  ["lead", "Lead", 1, 9],
  ["cap", "Cap", 1, 199],
  ["starting_points", "Starting score", 0, 50],
  ["substitutions_per_set", "Substitutions a set", 0, 99],
  ["time_outs_per_set", "Time-outs a set", 0, 9],
  ["time_out_s", "Time-out, seconds", 10, 300],
  ["liberos", "Liberos", 0, 4],
  ["seconds_to_serve", "Seconds to serve", 1, 30],
  ["side_change_points", "Sides change at", 1, 99],
];
