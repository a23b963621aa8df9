import { useEffect } from "preact/hooks";
import { pickSetter } from "../actions/change";
import type { State } from "../actions/state";
import { SetterPicker } from "../parts/SetterPicker";
import { ServerAndLevel } from "./Dock";
import { Notices } from "./Notices";
import { Ways } from "./Ways";
import { ReadySign, UpdateOffer } from "./OnThisDevice";

/** Nothing is known yet: one question, six answers. */
export function StartView({ now }: { now: State }) {
  useEffect(() => () => scrollTo(0, 0), []); // on a low screen the picker is scrolled to, and the call is above
  return (
    <main class="start-view">
      <header class="top"><span class="name">Cornerwise</span><Ways /></header>
      <section class="ask">
        <h1 tabIndex={-1}>Where is their setter?</h1>
        <p>Tap her position as you look at them across the net: where to serve from, where to, and why come at once.</p>
        <Notices now={now} />
        <UpdateOffer />
        <ReadySign />
      </section>
      <section class="dock big" aria-label="What you know">
        <p class="side">their end line</p>
        <SetterPicker setter={now.question.setter} onPick={pickSetter} />
        <p class="side">net, then you</p>
        <ServerAndLevel now={now} units={now.settings} />
      </section>
    </main>
  );
}
