import { useState } from "preact/hooks";
import { log } from "../../../actions/match/log";
import { passersAt, receptionSeen, type Moved } from "../../../actions/match/reception";
import { keepSeen } from "../../../actions/opponents/formation";
import { opponentOf } from "../../../actions/opponents/kept";
import { unsaved } from "../../../actions/opponents/standing";
import { state as start } from "../../../actions/state";
import type { EventBody } from "../../../api/match";
import { FORMATIONS } from "../../../api/types";
import { ReceptionPad } from "../../../parts/match/ReceptionPad";
import { Sheet } from "../../../parts/match/Sheet";
import { SetterPicker } from "../../../parts/SetterPicker";
import { useStore } from "../../../store/store";
import type { SheetProps } from "../Sheets";

/** Their setter is in …: one tap, at any moment; and how they receive in this rotation. */
export function SetterSheet({ answer, serves, onOpen }: SheetProps) {
  const { them } = answer.state.sides;
  return (
    <Sheet title="Their setter is in …" onClose={() => onOpen(null)}>
      <p class="caption">As you look at them across the net, now.</p>
      <div class="wide-picker">
        <SetterPicker
          setter={them.setter_position}
          onPick={(setter_position) => { onOpen(null); if (setter_position !== them.setter_position) void log([{ type: "lineup_corrected", side: "them", setter_position }], { said: "" }); }}
        />
      </div>
      {them.setter_position && <Reception key={them.setter_position} answer={answer} serves={serves} />}
    </Sheet>
  );
}

/** How many pass and where they stand: kept for this rotation of theirs, so that the next call knows. */
function Reception({ answer, serves }: Pick<SheetProps, "answer" | "serves">) {
  const { settings } = useStore(start);
  const [moved, setMoved] = useState<Moved>({});
  const [held, setHeld] = useState<string | null>(null);
  const seen = answer.state.sides.them.formation;
  const next = serves[0];
  const situation = next?.answer?.situation;
  const passers = situation ? passersAt(situation.players, moved) : [];
  const [said, setSaid] = useState("");
  const prepared = opponentOf(answer.state.teams.them);
  const forGood = async (): Promise<void> => {
    const body = receptionSeen(passers);
    const setter = answer.state.sides.them.setter_position;
    if (!prepared || setter === null || body?.type !== "reception_formation_seen") return;
    const places = body.passers?.map(({ x_m, y_m, position, number }) => ({ x_m, y_m, ...(position != null && { position }), ...(number != null && { number }) }));
    say(body);
    try {
      await keepSeen(prepared, setter, places ? { passers: places } : { formation: body.formation });
      setSaid(`Kept for good for ${prepared.name}, setter in ${setter}.`);
    } catch (problem) {
      setSaid(`Kept for this match. ${unsaved(problem, "Not for good").text}`);
    }
  };
  const entered = prepared !== null && next?.answer?.assumed.every(({ name }) => name !== "passers");
  const fromWhere = seen ? "As seen in this rotation." : entered ? `As entered for ${prepared.name}.` : "Assumed until you say.";
  const outOfOrder = seen && seen.passers.length > 0 && next && !next.coming.request?.opponent?.passers;
  const say = (body: EventBody | null): void => {
    setMoved({});
    setHeld(null);
    if (body) void log([body], { said: "" });
  };
  return (
    <section class="reception" aria-labelledby="reception-title">
      <h3 id="reception-title">They receive with</h3>
      <div class="row four" role="group" aria-label="How many pass">
        {FORMATIONS.map((formation) => (
          <button key={formation} type="button" class="light" aria-pressed={seen?.formation === formation} onClick={() => say({ type: "reception_formation_seen", side: "them", formation })}>{formation}</button>
        ))}
      </div>
      {situation && (
        <ReceptionPad
          passers={passers} setter={situation.setter_start} passTarget={situation.pass_target} service_line_m={situation.service_line_m} units={settings}
          held={held} onHold={setHeld} onMove={(label, to) => setMoved((before) => ({ ...before, [label]: to }))}
        />
      )}
      {outOfOrder && <p class="caption">Seen from these places their order would be broken (FIVB 7.4): the call goes by their number only.</p>}
      {Object.keys(moved).length > 0 ? <Keep known={prepared !== null} onMatch={() => { setSaid(""); say(receptionSeen(passers)); }} onGood={() => void forGood()} /> : <p class="caption">{fromWhere} Drag the passers to where they stand.</p>}
      {said && <p role="status">{said}</p>}
    </section>
  );
}

/** For a prepared opponent it can be kept for every match to come as well. */
function Keep({ known, onMatch, onGood }: { known: boolean; onMatch: () => void; onGood: () => void }) {
  return (
    <>
      <button type="button" class="strong" onClick={onMatch}>{known ? "They stand like this: for this match" : "They stand like this"}</button>
      {known && <button type="button" onClick={onGood}>They stand like this: for good</button>}
    </>
  );
}
