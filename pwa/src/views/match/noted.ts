/** Breaches of the rules and contradictions, as far as they still ask for a look. */
import type { Contradiction, ReplayAnswer, Violation } from "../../api/match";

export type Note = (Violation | Contradiction) & { readonly key: string; readonly rule?: string; readonly verify?: boolean };

const keyed = (note: Violation | Contradiction): Note => ({ ...note, key: `${note.code}/${note.event_id}` });

export const notes = ({ violations, contradictions }: ReplayAnswer): Note[] => [...contradictions.map(keyed), ...violations.map(keyed)];

/** Returns the notes of the present set that were not read, the latest first. */
export function unread(answer: ReplayAnswer, read: readonly string[]): Note[] {
  return notes(answer).filter(({ key, set_number }) => set_number >= answer.state.set_number && !read.includes(key)).sort((a, b) => b.rally_number - a.rally_number);
}
