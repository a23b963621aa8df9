import { useState } from "preact/hooks";
import { correct } from "../../../actions/match/log";
import { ERROR, FIRST_BALL, GRADE, rallyInWords } from "../../../actions/match/words";
import type { Change } from "../../../actions/match/taps";
import { FIRST_BALLS, GRADES, other, SERVE_ERRORS, SIDES, type RallyRecord } from "../../../api/match";
import { Sheet } from "../../../parts/match/Sheet";
import type { SheetProps } from "../Sheets";

/** The last five rallies, the newest first: tap one to put it right. Everything after it follows. */
export function RalliesSheet({ answer, onOpen }: SheetProps) {
  const { last_rallies, rally } = answer.state;
  const records = [...(rally ? [rally] : []), ...[...last_rallies].reverse()];
  const [open, setOpen] = useState<number | null>(null);
  return (
    <Sheet title="Last rallies" onClose={() => onOpen(null)}>
      {records.length === 0 && <p>None in this set yet.</p>}
      <ol class="rallies">
        {records.map((record) => (
          <li key={record.rally_number}>
            <button type="button" aria-expanded={open === record.rally_number} onClick={() => setOpen(open === record.rally_number ? null : record.rally_number)}>
              <span class="value">{record.points_before.us}–{record.points_before.them}</span>
              <span>{record.serving === null ? "" : `${record.serving === "us" ? "we serve" : "they serve"}${record.server === null ? "" : `, #${record.server}`}`}: {rallyInWords(record)}</span>
            </button>
            {open === record.rally_number && <Edit record={record} />}
          </li>
        ))}
      </ol>
    </Sheet>
  );
}

function Edit({ record }: { record: RallyRecord }) {
  const say = (change: Change): void => void correct(record, change, `a correction at ${record.points_before.us}–${record.points_before.them}`);
  const { serving } = record;
  const pick = (label: string, pressed: boolean, change: Change) => <button key={label} type="button" class="light" aria-pressed={pressed} onClick={() => say(change)}>{label}</button>;
  const played: Change = { ending: null, parts: { error: null } };
  return (
    <div class="edit">
      <div class="row two" role="group" aria-label="Who won">
        {SIDES.map((side) => pick(side === "us" ? "We won" : "They won", record.winner === side, side === record.winner ? {} : { ...played, winner: side, ...(record.grade === 0 && { parts: { grade: null, error: null } }) }))}
      </div>
      {serving && (
        <div class="row three" role="group" aria-label="The serve">
          {pick("missed", record.ending === "service_error", { winner: other(serving), ending: "service_error", parts: { grade: null, first_ball: null, passer: null } })}
          {pick("ace", record.ending === "ace", { winner: serving, ending: "ace", parts: { error: null, first_ball: null, grade: null } })}
          {pick("played", record.ending === null, { ...played, parts: { error: null, ...(record.grade === 0 && { grade: null }) } })}
        </div>
      )}
      {serving === "us" && record.ending === "service_error" && (
        <div class="row four" role="group" aria-label="How it was missed">{SERVE_ERRORS.map((error) => pick(error === "foot" ? "foot" : ERROR[error], record.error === error, { parts: { error } }))}</div>
      )}
      {serving === "us" && record.ending === null && (
        <>
          <div class="row three" role="group" aria-label="Their pass left them">{GRADES.map((grade) => pick(GRADE[grade], record.grade === grade, { parts: { grade } }))}</div>
          <div class="row four" role="group" aria-label="First ball back">{FIRST_BALLS.map((ball) => pick(FIRST_BALL[ball], record.first_ball === ball, { parts: { first_ball: ball } }))}</div>
        </>
      )}
    </div>
  );
}
