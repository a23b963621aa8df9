import { useState } from "preact/hooks";
import { log } from "../../../actions/match/log";
import { bench, numbersOf } from "../../../actions/match/numbers";
import { SIDES, type EventBody, type Side } from "../../../api/match";
import type { Position } from "../../../api/types";
import { HalfPicker } from "../../../parts/match/Half";
import { NumberChoice } from "../../../parts/match/Numbers";
import { Sheet } from "../../../parts/match/Sheet";
import type { SheetProps } from "../Sheets";

/** Substitutions and libero by tapping numbers: who goes out, who comes in. */
export function BenchSheet({ now, answer, onOpen }: SheetProps) {
  const [side, setSide] = useState<Side>("us");
  const [out, setOut] = useState<Position | null>(null);
  const [exceptional, setExceptional] = useState(false);
  const state = answer.state.sides[side];
  const leaves = out === null ? undefined : state.lineup[out - 1];
  const numbers = bench(now.rows, side, state, side === "us" ? numbersOf(answer.state.teams.us) : []);
  const marks = Object.fromEntries(numbers.filter((n) => state.liberos.includes(n)).map((n) => [n, "libero"]));
  const enter = (enters: number): void => {
    if (!leaves) return;
    onOpen(null);
    void log([replacing(side, leaves.number, leaves.libero, leaves.position, enters, state.liberos.includes(enters), exceptional)], { said: "" });
  };
  return (
    <Sheet title="Players in, out" onClose={() => onOpen(null)}>
      <div class="row two tabs" role="group" aria-label="Which side">
        {SIDES.map((s) => <button key={s} type="button" aria-pressed={side === s} onClick={() => { setSide(s); setOut(null); }}>{s === "us" ? "We" : "They"}<span class="caption">{left(answer.state.sides[s].substitutions_left)}</span></button>)}
      </div>
      <HalfPicker side={side} lineup={state.lineup} picked={out} label="Who goes out" onPick={setOut} />
      {out === null ? <p class="caption">Tap who goes out.</p> : <NumberChoice key={`${side}${out}`} label={`in for ${leaves?.number ?? "the player"} in ${out}`} numbers={numbers} marks={marks} onPick={enter} />}
      <label class="tick"><input type="checkbox" checked={exceptional} onChange={(event) => setExceptional(event.currentTarget.checked)} /> exceptional: injured or sent off, no substitution left</label>
    </Sheet>
  );
}

const left = (n: number | null): string => (n === null ? "no limit" : `${n} left`);

/** A libero comes and goes without a substitution. */
function replacing(side: Side, leaves: number | null, isLibero: boolean, position: Position, enters: number, isToBeLibero: boolean, exceptional: boolean): EventBody {
  const who = { side, enters, ...(leaves === null ? { position } : { leaves }) };
  if (isLibero || isToBeLibero) return { type: "libero_replaced", ...who };
  return { type: exceptional ? "exceptionally_substituted" : "substituted", ...who };
}
