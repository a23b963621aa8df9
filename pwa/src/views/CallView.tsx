import { set } from "../actions/change";
import { handlesOf, hold, move, putBack } from "../actions/move";
import { moved } from "../actions/question";
import type { State } from "../actions/state";
import type { Call, CallAnswer } from "../api/types";
import { Announcer } from "../parts/Announcer";
import { CallWords, Odds } from "../parts/CallWords";
import { Court } from "../parts/court/Court";
import { Legend } from "../parts/Legend";
import { Signal } from "../parts/Signal";
import { useSteadyHeight } from "../parts/useSteadyHeight";
import { useStill } from "../parts/useStill";
import { inUnits, signed } from "../parts/units";
import { choose } from "../actions/change";
import { Dock } from "./Dock";
import { Link } from "./Link";
import { Notices } from "./Notices";
import { UpdateOffer } from "./OnThisDevice";
import { Options, StayOffs } from "./Options";
import { Settings } from "./Settings";
import { noCallYet, shownCall, stale } from "./shown";
import { StartView } from "./StartView";
import { Ways } from "./Ways";
import { Why } from "./Why";

export function CallView({ now }: { now: State }) {
  const call = shownCall(now);
  const { answer, question, settings } = now;
  const still = useStill<HTMLElement>(now.held !== null);
  if (question.setter === null) return <StartView now={now} />;
  if (!answer || !call) return <Waiting now={now} />;
  const grips = handlesOf(answer, question);
  return (
    <main class={`call-view${stale(now) ? " stale" : ""}`} aria-busy={now.waiting}>
      <TopBar />
      <TheCall now={now} answer={answer} call={call} />
      <Signal poses={call.signal} />
      <About now={now} answer={answer} call={call} />
      <section class="picture" aria-label="The picture" ref={still}>
        <Court
          answer={answer} call={call} units={settings} turned={settings.turned}
          moving={{ grips, held: now.held, onHold: hold, onMove: move }}
        />
        <div class="under">
          <Legend />
          <p class="caption can-move">Drag setter, passers, pass target or server.</p>
          <button type="button" class="quiet" onClick={() => set({ turned: !settings.turned })}>Turn round</button>
          {moved(question) && <button type="button" class="quiet" onClick={putBack}>Back to stock places</button>}
        </div>
      </section>
      <Dock now={now} grips={grips} units={settings} />
      <div class="more">
        <Options answer={answer} chosen={now.chosen} />
        <StayOffs answer={answer} />
        <Why answer={answer} call={call} units={settings} />
        <Link to="/compare" class="wide-link">Two spots side by side</Link>
        <Settings now={now} />
      </div>
      <Announcer text={now.gone ? "The server cannot be reached." : `${call.words.call}. ${call.words.odds}.`} />
    </main>
  );
}

function TopBar() {
  return (
    <header class="top">
      <span class="name">Cornerwise</span>
      <Ways />
    </header>
  );
}

/** What to do, and what it is worth. */
function TheCall({ now, answer: { situation }, call }: { now: State; answer: CallAnswer; call: Call }) {
  const steady = useSteadyHeight<HTMLElement>(now.held !== null);
  return (
    <section class="call" aria-labelledby="the-call" ref={steady}>
      <p class="situation">
        their setter in <b>{situation.setter_position}</b>{situation.setter_row && `, ${situation.setter_row} row`}
        {now.waiting && !now.gone && " · working…"}
      </p>
      <h1 id="the-call" tabIndex={-1}><CallWords call={call} /></h1>
      <Odds call={call} />
    </section>
  );
}

/** Where exactly, why, and what else there is to know about the call. */
function About({ now, answer, call }: { now: State; answer: CallAnswer; call: Call }) {
  const { assumed, limits, drag, policy } = answer;
  const missed = [...limits.missing_spots].sort((a, b) => Math.abs(b.points_per_100) - Math.abs(a.points_per_100))[0];
  const steady = useSteadyHeight<HTMLElement>(now.held !== null);
  const pick = now.chosen === 0 ? undefined : answer.alternatives[now.chosen - 1];
  return (
    <section class="about" aria-label="About the call" ref={steady}>
      <UpdateOffer />
      <Notices now={now} />
      <p class="aim">{assumed.length > 0 && <span class="tag">assumed</span>} {inUnits(call.words.place, now.settings)}</p>
      {pick && (
        <p class="your-pick">
          Your pick, {pick.equal ? "as good as the best" : `${signed(pick.points_per_100)} in 100`}.{" "}
          <button type="button" class="quiet" onClick={() => choose(0)}>Back to the best</button>
        </p>
      )}
      <p class="reason">{inUnits(call.words.reason, now.settings)}</p>
      {!policy.met && <p class="remark">{policy.text}</p>}
      {drag.other_agrees === false && drag.text && <p class="remark">{drag.text}</p>}
      {missed && <p class="remark">{missed.text}.</p>}
    </section>
  );
}

/** The setter is known, the first answer is on its way or did not come. */
function Waiting({ now }: { now: State }) {
  return (
    <main class="call-view waiting" aria-busy={!now.gone}>
      <TopBar />
      <section class="call">
        <p class="situation">their setter in <b>{now.question.setter}</b></p>
        <h1 tabIndex={-1}>{noCallYet(now)}</h1>
        <Notices now={now} />
      </section>
      <Dock now={now} grips={[]} units={now.settings} />
    </main>
  );
}
