/** What is changed of our teams: by the service, and only then here; without it nothing changes, and that is said. */
import { addPlayer, addTeam, changePlayer, changeTeam, getCorners, getTeam, importPlayers, removePlayer, removeTeam, type Column, type Corners, type Imported, type OwnServe, type PlayerChange, type TeamDetail } from "../../api/roster";
import { Refused } from "../../api/problem";
import type { Kind, Level } from "../../api/types";
import { createStore } from "../../store/store";
import { go, teamPath } from "../route";
import { dropped, took } from "./roster";

export interface Editing {
  readonly busy: boolean;
  /** Nothing came back: nothing was changed. */
  readonly away: boolean;
  readonly refused: Refused | null;
}

export const editing = createStore<Editing>({ busy: false, away: false, refused: null });
export const fresh = (): void => editing.set({ busy: false, away: false, refused: null });

/** Returns the answer, null when there was none; why is in `editing`. */
async function through<T>(ask: () => Promise<T>): Promise<T | null> {
  editing.set({ busy: true, away: false, refused: null });
  try {
    const answer = await ask();
    editing.set({ busy: false });
    return answer;
  } catch (problem) {
    editing.set({ busy: false, ...(problem instanceof Refused ? { refused: problem } : { away: true }) });
    return null;
  }
}

/** Asks for a change, then shows the team as it is after it. Returns whether it was done. */
async function changed(team: string, ask: () => Promise<unknown>): Promise<boolean> {
  const after = await through(async () => {
    await ask();
    return getTeam(team);
  });
  if (after) await took(after);
  return after !== null;
}

export async function newTeam(name: string, level: Level | null): Promise<void> {
  const team = await through(() => addTeam({ name, level }));
  if (!team) return;
  await took(team);
  go(teamPath(team.id));
}

let last = Promise.resolve();

/** Changes a team, one change after the other: a later one is never overtaken by an earlier one. */
export function editTeam(id: string, change: { name?: string; level?: Level | null; lineup?: readonly (number | null)[] | null }): Promise<void> {
  last = last.then(async () => {
    const team = await through(() => changeTeam(id, change));
    if (team) await took(team);
  });
  return last;
}

export async function deleteTeam(id: string): Promise<void> {
  if ((await through(async () => { await removeTeam(id); return true; })) === null) return;
  await dropped(id);
  go("/team");
}

/** A serve of which only the kind is known: the level's usual one stands in for the rest. */
export const serveOf = (kind: Kind): OwnServe => ({ kind, speeds_m_s: null, spots: null, level: null, scatter: null, error_ceiling: null, next_job: null });

export const newPlayer = (team: string, number: number, name: string, kind: Kind | null): Promise<boolean> =>
  changed(team, () => addPlayer(team, { number, name: name.trim() || null, ...(kind && { serves: [serveOf(kind)] }) }));
export const editPlayer = (team: string, id: string, change: PlayerChange): Promise<boolean> => changed(team, () => changePlayer(team, id, change));
export const deletePlayer = (team: string, id: string): Promise<boolean> => changed(team, () => removePlayer(team, id));
export const cornersOf = (team: string, id: string): Promise<Corners | null> => through(() => getCorners(team, id));

/** Reads a table and keeps nothing. */
export const look = (team: string, text: string, columns: readonly (Column | null)[] | null): Promise<Imported | null> => through(() => importPlayers(team, text, columns, true));
export const accept = (team: string, text: string, columns: readonly (Column | null)[]): Promise<boolean> => changed(team, () => importPlayers(team, text, columns, false));

/** Returns a file as text: UTF-16 by its mark, else UTF-8; null if it is neither, such as a workbook. */
export async function textOf(file: Blob): Promise<string | null> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const [a, b] = bytes;
  const coding = a === 0xff && b === 0xfe ? "utf-16le" : a === 0xfe && b === 0xff ? "utf-16be" : "utf-8";
  try {
    const text = new TextDecoder(coding, { fatal: true }).decode(bytes);
    return text.includes("\0") ? null : text;
  } catch {
    return null;
  }
}

/** Returns a line-up with a number in a position; where it stood before is open then. */
export function withPlayer({ lineup }: Pick<TeamDetail, "lineup">, position: number, number: number | null): readonly (number | null)[] | null {
  const before = lineup ?? [null, null, null, null, null, null];
  const after = before.map((one, i) => (i === position - 1 ? number : one === number ? null : one));
  return after.some((one) => one !== null) ? after : null;
}
