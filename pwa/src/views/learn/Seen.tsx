import { useState } from "preact/hooks";
import { AS_GOOD, behind, next, seenAtOnce, tryAgain, type Lesson } from "../../actions/learn";
import type { CallAnswer } from "../../api/types";
import { Announcer } from "../../parts/Announcer";
import { CallWords } from "../../parts/CallWords";
import { Court } from "../../parts/court/Court";
import { Legend } from "../../parts/Legend";
import { inUnits, of100, type Units } from "../../parts/units";
import { turnInWords, verdict, whyInWords } from "./words";

/** The chosen serve and the best one, each with its angle and what it is worth. */
export function Seen({ at, answer, units }: { at: Lesson; answer: CallAnswer; units: Units }) {
  const [best, showBest] = useState(false);
  if (!at.serve) return null;
  const call = best ? answer.best : at.serve;
  const matched = behind(at) <= AS_GOOD;
  return (
    <>
      <section class="words">
        <h1 tabIndex={-1}>{verdict(at)}</h1>
        <div class="which" role="group" aria-label="Which serve is shown">
          <button type="button" aria-pressed={!best} onClick={() => showBest(false)}><b>Yours</b> wins {of100(at.serve.keep)} of 100</button>
          <button type="button" aria-pressed={best} onClick={() => showBest(true)}><b>{matched ? "As good" : "The best"}</b> wins {of100(answer.best.keep)} of 100</button>
        </div>
        <p class="task"><CallWords call={call} /></p>
        <p class="hint">{turnInWords(call)} {inUnits(whyInWords(call), units)} It misses {of100(call.p_error)} times in 100.</p>
      </section>
      <section class="picture"><Court answer={answer} call={call} units={units} plainly />{at.done.length + at.missed.length === 0 && <Legend plainly />}</section>
      <section class="thumb two">
        <button type="button" onClick={tryAgain}>Another serve</button>
        <button type="button" class="strong" onClick={next}>{seenAtOnce(at) ? "Next rotation" : "Next: this one comes back"}</button>
      </section>
      <Announcer text={`${verdict(at)}. ${turnInWords(at.serve)}`} />
    </>
  );
}
