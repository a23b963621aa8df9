import { useState } from "preact/hooks";
import { EMPTY, twice, typed, withNumber, withSetter, type Draft } from "../../actions/match/sheet";
import { SYSTEMS } from "../words";
import type { Side } from "../../api/match";
import type { Position, System } from "../../api/types";
import { HalfPicker } from "./Half";
import { Pad } from "./Numbers";

/** Positions in serving order, then the liberos. */
const LAST = 7;

/** A line-up by its numbers: tap a place, type, go on. Who sets gets the diamond. */
export function LineupPad({ side, draft, onChange }: { side: Side; draft: Draft; onChange: (draft: Draft) => void }) {
  const [slot, setSlot] = useState(0);
  const [fresh, setFresh] = useState(true);
  const value = slot < 6 ? draft.numbers[slot] : draft.liberos[slot - 6];
  const to = (next: number): void => {
    setSlot(Math.min(next, LAST));
    setFresh(true);
  };
  const type = (digit: number): void => {
    const before = fresh ? null : (value ?? null);
    const number = typed(before, digit);
    onChange(withNumber(draft, slot, number));
    setFresh(false);
    if (before !== null && number > 9) to(slot + 1);
  };
  const again = twice(draft);
  const cells = draft.numbers.map((number, i) => ({ position: (i + 1) as Position, number, setter: draft.setters.includes((i + 1) as Position) }));
  return (
    <div class="lineup-pad">
      <HalfPicker side={side} lineup={cells} picked={slot < 6 ? ((slot + 1) as Position) : null} label={side === "us" ? "Our places, net in front" : "Their places, as we see them"} onPick={(p) => to(p - 1)} />
      <div class="chips">
        {draft.liberos.map((number, i) => (
          <button key={i} type="button" class="chip" aria-pressed={slot === 6 + i} onClick={() => to(6 + i)}>
            {number ?? "·"}<span class="caption">{i === 0 ? "libero" : "2nd libero"}</span>
          </button>
        ))}
        <button type="button" class="chip word" disabled={slot > 5} aria-pressed={slot < 6 && draft.setters.includes((slot + 1) as Position)} onClick={() => onChange(withSetter(draft, (slot + 1) as Position))}>
          {slot < 6 ? `sets, in ${slot + 1}` : "sets"}
        </button>
        <button type="button" class="chip word" onClick={() => { onChange(EMPTY); to(0); }}>all empty</button>
      </div>
      <label class="field">Who sets
        <select value={draft.system} onChange={(event) => onChange({ ...draft, system: event.currentTarget.value as System, setters: draft.setters.slice(0, 1) })}>
          {Object.entries(SYSTEMS).map(([system, words]) => <option key={system} value={system}>{words}</option>)}
        </select>
      </label>
      {again.length > 0 && <p class="notice" role="status">{again.join(" and ")} {again.length > 1 ? "stand" : "stands"} there twice.</p>}
      <Pad onDigit={type} onWipe={() => { onChange(withNumber(draft, slot, null)); setFresh(true); }} done="Next" onDone={() => to(slot === LAST ? 0 : slot + 1)} />
    </div>
  );
}
