/** Everything the screens show, in one place. */
import type { CallAnswer, Stock } from "../api/types";
import type { Refused } from "../api/problem";
import { createStore } from "../store/store";
import { START, type Question } from "./question";

export interface Settings {
  readonly length: "m" | "ft";
  readonly speed: "km/h" | "mph" | "m/s";
  readonly turned: boolean;
}

export interface State {
  /** False until what was kept has been read. */
  readonly awake: boolean;
  readonly question: Question;
  readonly settings: Settings;
  readonly stock: Stock | null;
  readonly answer: CallAnswer | null;
  /** The question that the answer belongs to. */
  readonly answered: Question | null;
  /** The answer is from last time and not yet confirmed. */
  readonly remembered: boolean;
  /** Which of the answer's calls is shown: 0 the best, then the alternatives. */
  readonly chosen: number;
  /** What is picked up in the picture, to be moved. */
  readonly held: string | null;
  readonly waiting: boolean;
  readonly gone: boolean;
  readonly refused: Refused | null;
}

export const state = createStore<State>({
  awake: false,
  question: START,
  settings: { length: "m", speed: "km/h", turned: false },
  stock: null, answer: null, answered: null, remembered: false, chosen: 0, held: null,
  waiting: false, gone: false, refused: null,
});
