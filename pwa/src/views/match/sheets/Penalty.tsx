import { useState } from "preact/hooks";
import { log } from "../../../actions/match/log";
import { bench } from "../../../actions/match/numbers";
import { SIDES, type Side } from "../../../api/match";
import { NumberChoice } from "../../../parts/match/Numbers";
import { Sheet } from "../../../parts/match/Sheet";
import type { SheetProps } from "../Sheets";

const REASONS = [["misconduct", "misconduct"], ["delay", "delay"], ["other", "other"]] as const;

/** A point by penalty; in most rules the side that gets it serves next. */
export function PenaltySheet({ now, answer, onOpen }: SheetProps) {
  const [side, setSide] = useState<Side>("us");
  const [how, setHow] = useState<"expelled" | "disqualified">("expelled");
  const [rotation, setRotation] = useState(true);
  const [reason, setReason] = useState<(typeof REASONS)[number][0]>("misconduct");
  return (
    <Sheet title="Penalty" onClose={() => onOpen(null)}>
      <div class="row three" role="group" aria-label="For what">
        {REASONS.map(([name, word]) => <button key={name} type="button" class="light" aria-pressed={reason === name} onClick={() => setReason(name)}>{word}</button>)}
      </div>
      <label class="tick"><input type="checkbox" checked={rotation} onChange={(event) => setRotation(event.currentTarget.checked)} /> who gets the point serves next</label>
      <div class="row two result" role="group" aria-label="Point to">
        {SIDES.map((to) => <button key={to} type="button" onClick={() => { onOpen(null); void log([{ type: "penalty_point_given", to, rotation, reason }], { said: "" }); }}>{to === "us" ? "Point to us" : "Point to them"}</button>)}
      </div>
      <details>
        <summary>Sent off</summary>
        <div class="row two" role="group" aria-label="Whose player">
          {SIDES.map((s) => <button key={s} type="button" class="light" aria-pressed={side === s} onClick={() => setSide(s)}>{s === "us" ? "Ours" : "Theirs"}</button>)}
        </div>
        <div class="row two" role="group" aria-label="For how long">
          <button type="button" class="light" aria-pressed={how === "expelled"} onClick={() => setHow("expelled")}>for the set</button>
          <button type="button" class="light" aria-pressed={how === "disqualified"} onClick={() => setHow("disqualified")}>for the match</button>
        </div>
        <NumberChoice
          key={side} label="Who" numbers={[...answer.state.sides[side].lineup.flatMap((c) => c.number ?? []), ...bench(now.rows, side, answer.state.sides[side])]}
          onPick={(number) => { onOpen(null); void log([{ type: how, side, number }], { said: "" }); }}
        />
      </details>
    </Sheet>
  );
}
