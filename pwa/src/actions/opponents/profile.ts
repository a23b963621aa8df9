/** One opponent on the screen: what is known, and what was typed and is not saved yet. */
import { changeOpponent, removeOpponent, showOpponent, type OpponentProfile } from "../../api/opponents";
import { keep, recall } from "../../store/kept";
import { createStore } from "../../store/store";
import { go } from "../route";
import { alsoForget, dropOpponent, keepOpponent, opponentById, wakeOpponents } from "./kept";
import { sheetOf, changeOf, type OpponentSheet } from "./sheet";
import { standingAfter, unsaved, type Standing, type Unsaved } from "./standing";

interface Shown {
  readonly id: string | null;
  readonly profile: OpponentProfile | null;
  /** What is typed, by opponent; null or not there when nothing differs from what is saved. */
  readonly typed: Readonly<Record<string, OpponentSheet | null>>;
  readonly standing: Standing;
  readonly saving: boolean;
  readonly problem: Unsaved | null;
}

const START: Shown = { id: null, profile: null, typed: {}, standing: "waiting", saving: false, problem: null };
export const shown = createStore<Shown>(START);
alsoForget(() => shown.set(START));

/** Opens an opponent: as kept here at once, then as the service has it. */
export async function openOpponent(id: string): Promise<void> {
  if (shown.get().id !== id) shown.set({ id, profile: null, standing: "waiting", problem: null });
  const [typed] = await Promise.all([recall<Shown["typed"]>("opponents-typed"), wakeOpponents()]);
  if (shown.get().id !== id) return;
  shown.set({ typed: { ...typed, ...shown.get().typed }, profile: opponentById(id) });
  try {
    take(await showOpponent(id));
  } catch (problem) {
    if (shown.get().id !== id) return;
    const standing = standingAfter(problem);
    shown.set({ standing, ...(standing !== "gone" && { profile: null }) });
    if (standing === "missing") await dropOpponent(id);
  }
}

/** Shows and keeps an opponent as the service has it. */
export function take(profile: OpponentProfile): void {
  if (shown.get().id === profile.id) shown.set({ profile, standing: "there" });
  void keepOpponent(profile);
}

/** Returns what the fields show: what was typed, else what is saved. */
export const sheetShown = ({ profile, typed }: Shown): OpponentSheet | null => (profile ? (typed[profile.id] ?? sheetOf(profile)) : null);

export const isTyped = ({ profile, typed }: Shown): boolean => profile !== null && typed[profile.id] != null;

function put(id: string, sheet: OpponentSheet | null): void {
  shown.set({ typed: { ...shown.get().typed, [id]: sheet } });
  void keep("opponents-typed", shown.get().typed);
}

export function type(change: Partial<OpponentSheet>): void {
  const now = shown.get();
  const sheet = sheetShown(now);
  if (now.profile && sheet) put(now.profile.id, { ...sheet, ...change });
}

export const untype = (): void => {
  const { profile } = shown.get();
  shown.set({ problem: null });
  if (profile) put(profile.id, null);
};

export async function saveOpponent(): Promise<void> {
  const { profile, typed } = shown.get();
  const sheet = profile && typed[profile.id];
  if (!profile || !sheet) return;
  shown.set({ saving: true, problem: null });
  try {
    take(await changeOpponent(profile.id, changeOf(sheet, profile)));
    put(profile.id, null);
  } catch (problem) {
    shown.set({ problem: unsaved(problem, "Not saved") });
  } finally {
    shown.set({ saving: false });
  }
}

/** Deletes the opponent for everyone in the club. */
export async function deleteOpponent(): Promise<void> {
  const { profile } = shown.get();
  if (!profile) return;
  try {
    await removeOpponent(profile.id);
    put(profile.id, null);
    await dropOpponent(profile.id);
    go("/opponents");
  } catch (problem) {
    shown.set({ problem: unsaved(problem, "Not deleted") });
  }
}
