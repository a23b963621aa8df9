import { Sheet } from "../../../parts/match/Sheet";
import { notes } from "../noted";
import type { SheetProps } from "../Sheets";

/** Everything that was noted in this match: breaches of the rules, contradictions, what the service refused. */
export function NotesSheet({ answer, onOpen }: SheetProps) {
  const all = notes(answer);
  return (
    <Sheet title="Notes" onClose={() => onOpen(null)}>
      {all.length === 0 && <p>Nothing was noted.</p>}
      <ul class="notes">
        {all.map((note) => (
          <li key={note.key}>
            <p>{note.text}</p>
            <p class="caption">{note.set_number > 0 && `set ${note.set_number}, rally ${note.rally_number}`}{note.rule && ` · ${note.rule}`}{note.verify && ", verify with your competition’s rule book"}</p>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}
