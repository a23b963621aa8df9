import { correct, log } from "../../actions/match/log";
import { markRead } from "../../actions/match/follow";
import type { Live } from "../../actions/match/live";
import { ERROR, rallyInWords } from "../../actions/match/words";
import { conflictInWords, conflictsOf, type Conflict } from "../../actions/match/conflicts";
import { SERVE_ERRORS, type RallyRecord, type ReplayAnswer, type ServeError } from "../../api/match";
import type { SheetName } from "./Sheets";
import { unread, type Note } from "./noted";

interface Props { now: Live; answer: ReplayAnswer; known: boolean; onOpen: (sheet: SheetName) => void }

/** One line above the buttons: what can be added or asked now. Never more than one question, never in the way. */
export function Prompts({ now, answer, known, onOpen }: Props) {
  const { state } = answer;
  const last = state.last_rallies.at(-1);
  const conflicts = conflictsOf(now.rows, answer.contradictions, now.device);
  const conflict = conflicts.find(({ key }) => !now.read.includes(key));
  const atOdds = new Set(conflicts.flatMap(({ ids }) => ids));
  const note = unread(answer, now.read).find(({ event_id }) => !atOdds.has(event_id));
  const us = state.sides.us;
  const libero = us.lineup.find((c) => c.libero && (c.position === 1 || us.libero_must_leave));
  const mayLeave = answer.libero_may_replace?.us ?? [];
  const free = us.liberos.find((n) => us.lineup.every((c) => c.number !== n));
  if (!known) return null;
  if (us.libero_must_leave && libero) {
    const back = libero.libero_for;
    return <Ask text={`Libero ${libero.number} must leave`} action={back === null ? "Out" : `${back} back in`} onAct={() => void log([{ type: "libero_replaced", side: "us", leaves: libero.number as number, ...(back !== null && { enters: back }) }], { said: "" })} />;
  }
  if (state.side_change_due) return <Ask text="Sides change" action="Changed" onAct={() => void log([{ type: "sides_changed" }], { said: "" })} />;
  if (conflict) return <AConflict key={conflict.key} conflict={conflict} set_number={state.set_number} />;
  if (note) return <ANote note={note} onOpen={onOpen} />;
  if (now.undone) return <p class="prompt undone" role="status"><span>Taken back: <b>{now.undone}</b></span></p>;
  if (state.rally?.grade && state.serving === "us") return <Passers rally={state.rally} numbers={state.sides.them.lineup.flatMap(({ number, setter }) => (number === null || setter ? [] : number))} onOpen={onOpen} />;
  if (last?.ending === "service_error" && last.serving === "us" && last.error === null && !state.rally) return <Errors at={{ set_number: state.set_number, rally_number: last.rally_number }} />;
  if (mayLeave.length > 0 && free !== undefined) return <LiberoIn libero={free} numbers={mayLeave} />;
  if (last) return <button type="button" class="prompt last" onClick={() => onOpen("rallies")}><span class="caption">last</span> <span>{last.server === null ? "" : `#${last.server}: `}{rallyInWords(last)}</span></button>;
  return null;
}

function Ask({ text, action, onAct }: { text: string; action: string; onAct: () => void }) {
  return <div class="prompt ask"><span>{text}</span><button type="button" onClick={onAct}>{action}</button></div>;
}

/** The libero comes in with one tap; who is likeliest first. */
function LiberoIn({ libero, numbers }: { libero: number; numbers: readonly number[] }) {
  return (
    <div class="prompt choices libero-in" role="group" aria-label={`Libero ${libero} in for`}>
      <span class="caption" aria-hidden="true">libero {libero} in for</span>
      {numbers.map((leaves) => <button key={leaves} type="button" class="light" onClick={() => void log([{ type: "libero_replaced", side: "us", enters: libero, leaves }], { said: "" })}>{leaves}</button>)}
    </div>
  );
}

/** The second, optional tap after a missed serve. */
function Errors({ at }: { at: { set_number: number; rally_number: number } }) {
  const say = (error: ServeError): void => void log([{ type: "serve_noted", error, at }], { said: "" });
  return (
    <div class="prompt choices" role="group" aria-label="How it was missed, if you like">
      <span class="caption" aria-hidden="true">missed</span>
      {SERVE_ERRORS.map((error) => <button key={error} type="button" class="light" onClick={() => say(error)}>{error === "foot" ? "foot" : ERROR[error]}</button>)}
    </div>
  );
}

/** Who passed: their numbers on court but the setter's, who hardly ever does; where it landed and where it was served from, in a sheet. */
function Passers({ rally, numbers, onOpen }: { rally: RallyRecord; numbers: readonly number[]; onOpen: (sheet: SheetName) => void }) {
  const say = (passer: number): void => {
    if (rally.passer === passer) return;
    if (rally.passer !== null) void correct(rally, { parts: { passer } }, "the passer put right");
    else void log([{ type: "serve_noted", passer }], { said: `#${passer} passed` });
  };
  return (
    <div class="prompt choices passers" role="group" aria-label="Who passed, if you like">
      {numbers.length > 0 && <span class="caption" aria-hidden="true">passed by, if you like</span>}
      {numbers.map((n) => <button key={n} type="button" class="light" aria-pressed={rally.passer === n} onClick={() => say(n)}>{n}</button>)}
      <button type="button" class="light" onClick={() => onOpen("served")}>{numbers.length > 0 ? "where" : "where it landed"}</button>
    </div>
  );
}

/** A breach or a contradiction: said once, with its rule; the referee decides. */
function ANote({ note, onOpen }: { note: Note; onOpen: (sheet: SheetName) => void }) {
  return (
    <div class="prompt note" role="status">
      <p>{note.text} {note.rule && <span class="caption">{note.rule}{note.verify && ", verify with your rule book"}</span>}</p>
      <button type="button" onClick={() => { void markRead([note.key]); onOpen("put-right"); }}>Put right</button>
      <button type="button" onClick={() => void markRead([note.key])}>Seen</button>
    </div>
  );
}

/** Two devices said different things: one tap settles it, for every device. */
function AConflict({ conflict, set_number }: { conflict: Conflict; set_number: number }) {
  const { counted, other } = conflict;
  const settle = ({ label, settles }: Conflict["counted"]): void => void log(settles, { said: `settled: ${label}` });
  return (
    <div class="prompt note conflict" role="group" aria-label="Two phones differ">
      <p role="status">{conflictInWords(conflict, set_number)}</p>
      <button type="button" onClick={() => settle(counted)}><span class="caption">{conflict.both ? "only" : "keep"}</span> {counted.label}</button>
      <button type="button" onClick={() => settle(other)}><span class="caption">{conflict.both ? "only" : "take"}</span> {other.label}</button>
      <button type="button" class="quiet" onClick={() => void markRead([conflict.key])}>Later</button>
    </div>
  );
}
