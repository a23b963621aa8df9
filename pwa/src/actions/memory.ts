/** A reload paints what was last shown, at once, and then asks again. */
import type { CallAnswer, Stock } from "../api/types";
import { keep, recall } from "../store/kept";
import { ask } from "./ask";
import { CHOICES, START, type Question } from "./question";
import { state, type Settings, type State } from "./state";

interface Last { readonly answer: CallAnswer; readonly answered: Question }

const QUIET_MS = 150; // chosen: a drag is kept once, after it

/** Reads what was kept into the state; then every change is kept. Of what an earlier version kept, all counts as chosen. */
export async function wake(): Promise<void> {
  const [question, settings, stock, last] = await Promise.all([
    recall<Partial<Question>>("question"), recall<Settings>("settings"), recall<Stock>("stock"), recall<Last>("last"),
  ]);
  state.set({
    awake: true,
    ...(question && { question: { ...START, ...question, chosen: question.chosen ?? CHOICES } }),
    ...(settings && { settings }),
    ...(stock && { stock }),
    ...(last && { ...last, remembered: true }),
  });
  keepChanges();
  ask();
}

function keepChanges(): void {
  let before = state.get();
  let timer: ReturnType<typeof setTimeout> | undefined;
  state.watch(() => {
    clearTimeout(timer);
    timer = setTimeout(() => {
      const now = state.get();
      void keepWhatChanged(before, now);
      before = now;
    }, QUIET_MS);
  });
}

async function keepWhatChanged(before: State, now: State): Promise<void> {
  if (now.question !== before.question) await keep("question", now.question);
  if (now.settings !== before.settings) await keep("settings", now.settings);
  if (now.stock && now.stock !== before.stock) await keep("stock", now.stock);
  if (now.answer && now.answered && now.answer !== before.answer) await keep("last", { answer: now.answer, answered: now.answered });
}
