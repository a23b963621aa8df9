import { useState } from "preact/hooks";
import { next, seenAtOnce, tryAgain, type Lesson } from "../../actions/learn";
import type { Call, CallAnswer } from "../../api/types";
import { Announcer } from "../../parts/Announcer";
import { CallWords } from "../../parts/CallWords";
import { Court } from "../../parts/court/Court";
import { degrees, of100, type Units } from "../../parts/units";
import { toLearn, verdict } from "./words";

/** The chosen serve beside the best one: what each asks of the passer, and what it is worth. */
export function Seen({ at, answer, units }: { at: Lesson; answer: CallAnswer; units: Units }) {
  const [best, showBest] = useState(false);
  if (!at.serve) return null;
  const call = best ? answer.best : at.serve;
  const learn = toLearn(at);
  return (
    <>
      <section class="words">
        <h1 tabIndex={-1}>{verdict(at)}</h1>
        {learn && <p class="task">{learn}</p>}
        <div class="which" role="group" aria-label="Which serve is shown">
          <button type="button" aria-pressed={!best} onClick={() => showBest(false)}><b>Yours</b> wins {of100(at.serve.keep)} of 100</button>
          <button type="button" aria-pressed={best} onClick={() => showBest(true)}><b>The best</b> wins {of100(answer.best.keep)} of 100</button>
        </div>
        <Compared mine={at.serve} best={answer.best} />
        <p class="caption">Coaches say: <CallWords call={call} /></p>
      </section>
      <section class="picture"><Court answer={answer} call={call} units={units} plainly /></section>
      <section class="thumb two">
        <button type="button" onClick={tryAgain}>Another serve</button>
        <button type="button" class="strong" onClick={next}>{seenAtOnce(at) ? "Next rotation" : "Next: this one comes back"}</button>
      </section>
      <Announcer text={`${verdict(at)} ${learn}`} />
    </>
  );
}

/** What makes the pass hard, and how often the serve misses; the better of the two in each row is bold. */
function Compared({ mine, best }: { mine: Call; best: Call }) {
  const rows: readonly (readonly [string, (call: Call) => number, (value: number) => string, boolean])[] = [
    ["turn of the pass", (c) => c.pass_angle_deg, degrees, true],
    ["setter out of sight by", (c) => c.sight_angle_deg, degrees, true],
    ["misses of 100 serves", (c) => c.p_error, of100, false],
  ];
  return (
    <table class="compared">
      <thead class="unseen"><tr><th scope="col">Yours</th><td /><th scope="col">The best</th></tr></thead>
      <tbody>
        {rows.map(([name, of, said, more]) => {
          const better = (a: number, b: number): string => (said(a) !== said(b) && a > b === more ? "better" : "");
          const [yours, hers] = [of(mine), of(best)];
          return <tr key={name}><td class={better(yours, hers)}>{said(yours)}</td><th scope="row">{name}</th><td class={better(hers, yours)}>{said(hers)}</td></tr>;
        })}
      </tbody>
    </table>
  );
}
