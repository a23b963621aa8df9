import { useState } from "preact/hooks";
import { log } from "../../../actions/match/log";
import { correction, draftNow } from "../../../actions/match/sheet";
import { SIDES, type EventBody, type Side, type SideState } from "../../../api/match";
import { NumberChoice } from "../../../parts/match/Numbers";
import { LineupPad } from "../../../parts/match/LineupPad";
import { Sheet } from "../../../parts/match/Sheet";
import type { SheetProps } from "../Sheets";

/** By hand, when log and floor disagree: rotation, who serves, score. */
export function PutRightSheet({ answer, onOpen }: SheetProps) {
  const { state } = answer;
  const [points, setPoints] = useState(state.points);
  const [server, setServer] = useState<Side | null>(null);
  const act = (body: EventBody): void => void log([body], { said: "" });
  const change = (side: Side, by: number): void => setPoints({ ...points, [side]: Math.max(0, points[side] + by) });
  return (
    <Sheet title="Put right by hand" onClose={() => onOpen(null)}>
      {SIDES.map((side) => (
        <div key={side} class="turn" role="group" aria-label={side === "us" ? "Rotate us" : "Rotate them"}>
          <span>{side === "us" ? "Our rotation" : "Their rotation"}<span class="caption">{state.sides[side].lineup.map((c) => c.number ?? "·").join(" ")}</span></span>
          <button type="button" onClick={() => act({ type: "lineup_corrected", side, rotate: -1 })}>back</button>
          <button type="button" onClick={() => act({ type: "lineup_corrected", side, rotate: 1 })}>on</button>
        </div>
      ))}
      <div class="turn" role="group" aria-label="Who serves">
        <span>Who serves<span class="caption">now {state.serving === "us" ? "we" : "they"}</span></span>
        {SIDES.map((side) => <button key={side} type="button" aria-pressed={server === side} onClick={() => setServer(side)}>{side === "us" ? "we" : "they"}</button>)}
      </div>
      {server && (
        <>
          <NumberChoice key={server} label="with number" numbers={state.sides[server].lineup.flatMap((c) => c.number ?? [])} onPick={(number) => { act({ type: "server_corrected", side: server, number }); setServer(null); }} />
          <button type="button" onClick={() => { act({ type: "server_corrected", side: server }); setServer(null); }}>as they stand</button>
        </>
      )}
      {SIDES.map((side) => (
        <div key={side} class="turn" role="group" aria-label={side === "us" ? "Our points" : "Their points"}>
          <span>{side === "us" ? "Our points" : "Their points"} <b class="value">{points[side]}</b></span>
          <button type="button" onClick={() => change(side, -1)}>−1</button>
          <button type="button" onClick={() => change(side, 1)}>+1</button>
        </div>
      ))}
      <button type="button" class="strong" disabled={points.us === state.points.us && points.them === state.points.them} onClick={() => { act({ type: "score_corrected", us: points.us, them: points.them }); onOpen(null); }}>
        Set the score to {points.us}–{points.them}
      </button>
      {SIDES.map((side) => <LineUp key={side} side={side} state={state.sides[side]} onSave={act} />)}
    </Sheet>
  );
}

/** Who stands where now, by number; only what is changed is logged. */
function LineUp({ side, state, onSave }: { side: Side; state: SideState; onSave: (body: EventBody) => void }) {
  const before = draftNow(state);
  const [draft, setDraft] = useState(before);
  const change = correction(before, draft);
  return (
    <details>
      <summary>{side === "us" ? "Our line-up as it stands" : "Their line-up as it stands"}</summary>
      <LineupPad side={side} draft={draft} onChange={setDraft} />
      <button type="button" class="strong" disabled={change === null} onClick={() => change && onSave({ type: "lineup_corrected", side, ...change })}>Put it so</button>
    </details>
  );
}
