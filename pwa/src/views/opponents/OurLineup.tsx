import { useState } from "preact/hooks";
import { choose } from "../../actions/opponents/book";
import { typed } from "../../actions/match/sheet";
import { POSITIONS, type Position } from "../../api/types";
import { HalfPicker } from "../../parts/match/Half";
import { Pad } from "../../parts/match/Numbers";

type Lineup = readonly (number | null)[];
const NOBODY: Lineup = [null, null, null, null, null, null];

/** Our six by position at the start of the set: the team's usual ones, or others for this book. */
export function OurLineup({ lineup, usual }: { lineup: Lineup | null; usual: boolean }) {
  const [draft, setDraft] = useState<Lineup | null>(null);
  const [at, setAt] = useState<Position>(1);
  const [fresh, setFresh] = useState(true);
  const six = draft ?? lineup ?? NOBODY;
  const put = (number: number | null): void => setDraft(six.map((old, i) => (i === at - 1 ? number : old)));
  const to = (position: Position): void => { setAt(position); setFresh(true); };
  const next = (): void => to(((at % 6) + 1) as Position);
  const digit = (d: number): void => {
    const before = fresh ? null : (six[at - 1] ?? null);
    put(typed(before, d));
    setFresh(false);
    if (before !== null) next();
  };
  const twice = six.some((number, i) => number !== null && six.indexOf(number) !== i);
  return (
    <details class="our-lineup">
      <summary>Our line-up <span class="caption">{lineup ? `${lineup.map((n) => n ?? "?").join(" ")}${usual ? ", as usual" : ""}` : "not entered"}</span></summary>
      <HalfPicker side="us" lineup={POSITIONS.map((position) => ({ position, number: six[position - 1] ?? null }))} picked={at} label="Our places, net in front" onPick={to} />
      <Pad onDigit={digit} onWipe={() => { put(null); setFresh(true); }} done="Next" onDone={next} />
      {twice && <p class="notice">A number stands there twice.</p>}
      <div class="pair">
        <button type="button" class="strong" disabled={!draft || twice} onClick={() => { if (draft) choose({ lineup: draft.some((n) => n !== null) ? draft : null }); setDraft(null); }}>Use this line-up</button>
        <button type="button" disabled={usual && !draft} onClick={() => { setDraft(null); choose({ lineup: null }); }}>The usual one</button>
      </div>
    </details>
  );
}
