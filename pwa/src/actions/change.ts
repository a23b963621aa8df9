/** What a tap changes. Every change asks again. */
import { SPOT_NAMES, type Formation, type Kind, type Position, type SpotName, type System } from "../api/types";
import { ask } from "./ask";
import { atTier, type Choice, type Question, type Tier, withChoice } from "./question";
import { state, type Settings } from "./state";

export function change(part: Partial<Question>): void {
  state.set({ question: { ...state.get().question, ...part }, chosen: 0, refused: null });
  ask();
}

export const pickSetter = (setter: Position): void => {
  state.set({ held: null });
  change({ setter });
};

const chosen = (choice: Choice): Pick<Question, "chosen"> => ({ chosen: withChoice(state.get().question, choice) });

export const pickKind = (kind: Kind): void => change({ kind, ceiling: "start", ...chosen("kind") });

export function pickTier(tier: Tier): void {
  const { question, stock } = state.get();
  if (stock) change(atTier(question, tier, stock));
}

export const pickCeiling = (ceiling: Question["ceiling"]): void => change({ ceiling });

/** Another number of passers: those moved by hand go back to the stock places. */
export const pickFormation = (formation: Formation): void => change({ formation, places: {}, ...chosen("formation") });

export const pickSystem = (system: System): void => change({ system, places: {}, ...chosen("system") });

/** Takes a spot away from the server or gives it back; one always stays. */
export function toggleSpot(name: SpotName): void {
  const { spots } = state.get().question;
  const left = SPOT_NAMES.filter((n) => (n === name ? !spots.includes(n) : spots.includes(n)));
  if (left.length > 0) change({ spots: left, spot: null });
}

export const choose = (chosen: number): void => state.set({ chosen });

export function set(part: Partial<Settings>): void {
  state.set({ settings: { ...state.get().settings, ...part } });
}
