/** Two spots side by side: the same question twice, each time with one spot only. */
import { Refused } from "../api/problem";
import type { CallAnswer, SpotName } from "../api/types";
import { createStore } from "../store/store";
import { engine } from "./ask";
import { asksSomething, requestOf } from "./question";
import { state } from "./state";

export type Pair<T> = readonly [T, T];

export interface Compared {
  readonly spots: Pair<SpotName>;
  readonly answers: Pair<CallAnswer> | null;
  readonly fault: "gone" | "refused" | null;
}

export const compared = createStore<Compared>({ spots: ["left_corner", "right_corner"], answers: null, fault: null });

const AGAIN_MS = 2000; // chosen

let latest = 0;
let again: ReturnType<typeof setTimeout> | undefined;

/** Asks for both spots, again by itself when nobody answers; an answer to an older pair is dropped. */
export async function compare(spots: Pair<SpotName>): Promise<void> {
  stopComparing();
  const mine = latest;
  compared.set({ spots });
  const { question, stock } = state.get();
  if (!stock || !asksSomething(question)) return;
  const request = requestOf(question);
  const from = (spot: SpotName): Promise<CallAnswer> => engine.call({ ...request, server: { ...request.server, spots: [spot] } });
  try {
    const answers = await Promise.all([from(spots[0]), from(spots[1])]);
    if (mine === latest) compared.set({ answers, fault: null });
  } catch (problem) {
    if (mine !== latest) return;
    const fault = problem instanceof Refused ? "refused" : "gone";
    compared.set({ fault });
    if (fault === "gone") again = setTimeout(() => void compare(spots), AGAIN_MS);
  }
}

/** Drops what was asked last, and asks no more. */
export function stopComparing(): void {
  latest += 1;
  clearTimeout(again);
}
