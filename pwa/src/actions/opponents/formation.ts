/** Where their six stand while we serve, for each position of their first setter: dragged, looked at by the engine, kept. */
import { copyFormation, putFormation, removeFormation, type CheckedFormation, type FormationAsked, type FormationPlayer, type OpponentProfile } from "../../api/opponents";
import { Refused } from "../../api/problem";
import type { Formation, Point, Position } from "../../api/types";
import { keep, recall } from "../../store/kept";
import { createStore } from "../../store/store";
import { engine } from "../ask";
import { alsoForget, enteredAt, withFormation } from "./kept";
import { shown, take } from "./profile";
import { unsaved, type Unsaved } from "./standing";

/** One of their six as she is sent. */
export type Stands = Pick<FormationPlayer, "position" | "x_m" | "y_m" | "passes" | "number">;

interface Editing {
  /** Where their first setter is in the rotation shown. */
  readonly setter: Position;
  /** Formations that were changed and are not saved, by opponent and position of the setter. */
  readonly drafts: Readonly<Record<string, readonly Stands[] | undefined>>;
  /** The engine's answer for what is shown, or a moment before. */
  readonly checked: CheckedFormation | null;
  readonly held: Position | null;
  readonly saving: boolean;
  readonly problem: Unsaved | null;
  /** What became of copying. */
  readonly said: string;
}

const START: Editing = { setter: 1, drafts: {}, checked: null, held: null, saving: false, problem: null, said: "" };
export const editing = createStore<Editing>(START);
alsoForget(() => editing.set(START));

const keyOf = (profile: OpponentProfile, setter: Position): string => `${profile.id}/${setter}`;
export const draftAt = ({ drafts }: Pick<Editing, "drafts">, profile: OpponentProfile, setter: Position): readonly Stands[] | undefined => drafts[keyOf(profile, setter)];

/** Returns what there is for a rotation: dragged and not saved, entered, or nothing but a stock formation. */
export const standsAs = (now: Pick<Editing, "drafts">, profile: OpponentProfile, setter: Position): "not saved" | "entered" | "stock" =>
  draftAt(now, profile, setter) ? "not saved" : enteredAt(profile, setter) ? "entered" : "stock";

/** Returns the six as they are shown; null before the first answer. */
export function sixOf(now: Editing, profile: OpponentProfile): readonly Stands[] | null {
  return draftAt(now, profile, now.setter) ?? (now.checked?.setter_position === now.setter ? now.checked.players : null);
}

const hundredth = (value: number): number => Math.round(100 * value) / 100;
const stands = ({ position, x_m, y_m, passes, number }: Stands): Stands => ({ position, x_m: hundredth(x_m), y_m: hundredth(y_m), passes, number });

type Six = NonNullable<FormationAsked["players"]>;
/** Returns six as the engine takes them: a number only where one was given. */
const sent = (six: readonly Stands[]): Six => six.map(({ number, ...rest }) => ({ ...rest, ...(number !== null && { number }) }));

function questionOf(now: Editing, profile: OpponentProfile): FormationAsked {
  const six = draftAt(now, profile, now.setter) ?? enteredAt(profile, now.setter)?.players;
  return { setter_position: now.setter, system: profile.system, ...(six && { players: sent(six) }) };
}

let asking = false;
let wanted = false;

/** Has the engine look at what is shown; while an answer is on its way only the newest is asked next. */
export async function look(): Promise<void> {
  wanted = true;
  if (asking) return;
  asking = true;
  while (wanted) {
    wanted = false;
    const { profile } = shown.get();
    if (!profile) break;
    const question = questionOf(editing.get(), profile);
    try {
      const checked = await engine.formation(question);
      if (question.setter_position === editing.get().setter) editing.set({ checked, problem: null });
    } catch (problem) {
      editing.set({ problem: problem instanceof Refused ? unsaved(problem, "They cannot stand like this") : { text: "Nothing answers at the moment: whether their order is kept is not known.", faults: [] } });
    }
  }
  asking = false;
}

export async function openFormations(): Promise<void> {
  const drafts = await recall<Editing["drafts"]>("formations-dragged");
  editing.set({ drafts: { ...drafts, ...editing.get().drafts }, checked: null, held: null, problem: null, said: "" });
  await look();
}

export function showRotation(setter: Position): void {
  editing.set({ setter, held: null, problem: null, said: "" });
  void look();
}

function put(six: readonly Stands[] | undefined): void {
  const { profile } = shown.get();
  if (!profile) return;
  const now = editing.get();
  editing.set({ drafts: { ...now.drafts, [keyOf(profile, now.setter)]: six }, said: "" });
  void keep("formations-dragged", editing.get().drafts);
  void look();
}

/** Changes one of the six. */
function alter(position: Position, change: (before: Stands) => Stands): void {
  const { profile } = shown.get();
  const six = profile && sixOf(editing.get(), profile);
  if (six) put(six.map((one) => stands(one.position === position ? change(one) : one)));
}

export const hold = (held: Position | null): void => editing.set({ held });
export const moveTo = (position: Position, { x_m, y_m }: Point): void => alter(position, (one) => ({ ...one, x_m, y_m }));
export const togglePasses = (position: Position): void => alter(position, (one) => ({ ...one, passes: !one.passes }));
/** Says who stands there, where it is not the one whose turn it is: a libero; null: by the order of rotation. */
export const standsIn = (position: Position, number: number | null): void => alter(position, (one) => ({ ...one, number }));

/** Begins again from a stock formation of so many passers. */
export async function fromStock(formation: Formation): Promise<void> {
  const { profile } = shown.get();
  if (!profile) return;
  const { setter } = editing.get();
  const stock = await engine.formation({ setter_position: setter, system: profile.system, formation }).catch(() => null);
  if (stock && editing.get().setter === setter) put(stock.players.map(stands));
}

async function doing(what: string, work: (profile: OpponentProfile, setter: Position) => Promise<void>): Promise<void> {
  const { profile } = shown.get();
  if (!profile) return;
  editing.set({ saving: true, problem: null, said: "" });
  try {
    await work(profile, editing.get().setter);
  } catch (problem) {
    editing.set({ problem: unsaved(problem, what) });
  } finally {
    editing.set({ saving: false });
  }
}

/** Keeps what is shown for good. */
export const saveFormation = (): Promise<void> => doing("Not saved", async (profile, setter) => {
  const six = sixOf(editing.get(), profile);
  if (!six) return;
  take(withFormation(profile, await putFormation(profile.id, setter, { players: sent(six) })));
  if (draftAt(editing.get(), profile, setter) === six) put(undefined);
});

/** Throws what was dragged away: what is saved stands there again. */
export const undrag = (): void => put(undefined);

/** Puts the stock formation back, also where another was saved. */
export const backToStock = (): Promise<void> => doing("Not put back", async (profile, setter) => {
  if (enteredAt(profile, setter)) take(withFormation(profile, await removeFormation(profile.id, setter)));
  put(undefined);
});

/** Has the saved formation for other rotations too; says where nobody could stand like that. */
export const copyTo = (to: readonly Position[]): Promise<void> => doing("Not copied", async (profile, setter) => {
  const { copied, refused } = await copyFormation(profile.id, setter, to);
  take(copied.reduce(withFormation, profile));
  const gone = copied.map((one) => keyOf(profile, one.setter_position as Position));
  editing.set({ drafts: Object.fromEntries(Object.entries(editing.get().drafts).filter(([key]) => !gone.includes(key))) });
  void keep("formations-dragged", editing.get().drafts);
  const done = copied.map(({ setter_position }) => setter_position).join(", ");
  const not = refused.map(({ setter_position, expected }) => `not with their setter in ${setter_position}: it takes ${expected}`);
  editing.set({ said: [done && `Copied to setter in ${done}.`, ...not.map((text) => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`)].filter(Boolean).join(" ") });
});

type Seen = Parameters<typeof putFormation>[2];

/** Returns what was seen upon the six that were entered: who does not pass, the setter among them, stays where she was put. */
export function seenUpon(six: readonly Stands[] | undefined, seen: Seen): Seen {
  const { passers } = seen;
  if (!six || !passers?.every(({ position }) => six.some((one) => one.position === position))) return seen;
  return { players: sent(six.map((one) => {
    const now = passers.find(({ position }) => position === one.position);
    return stands({ ...one, ...(now && { x_m: now.x_m, y_m: now.y_m }), passes: now !== undefined });
  })) };
}

/** Keeps for good what was seen in a match: how many pass, and from where. Fails as the service does. */
export async function keepSeen(profile: OpponentProfile, setter: Position, seen: Seen): Promise<void> {
  take(withFormation(profile, await putFormation(profile.id, setter, seenUpon(enteredAt(profile, setter)?.players, seen))));
}
