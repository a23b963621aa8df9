/** For players, on a phone or a projector: one rotation after the other, nothing to sign in to and nothing kept. */
import { useEffect } from "preact/hooks";
import "../styles";
import { aimAt, begin, fetchRound, find, lesson, pickSpot, serveIt, teach, type Lesson, type Step } from "../../actions/learn";
import { go } from "../../actions/route";
import type { State } from "../../actions/state";
import { Announcer } from "../../parts/Announcer";
import { Board } from "../../parts/court/Board";
import { SpotPicker } from "../../parts/SpotPicker";
import { useStore } from "../../store/store";
import { End, Intro } from "./Ends";
import { Places } from "./Places";
import { Seen } from "./Seen";
import { hintFor, PLACE_WORDS } from "./words";

export function LearnView({ now }: { now: State }) {
  const at = useStore(lesson);
  useEffect(() => document.querySelector<HTMLElement>("h1")?.focus({ preventScroll: true }), [at.step]);
  if (at.step === "start") return <Page at={at}><Intro against={at.opponent?.name ?? null} onStart={begin} onStock={() => teach(null)} /></Page>;
  if (at.step === "end") return <Page at={at}><End at={at} onAgain={begin} /></Page>;
  if (!at.answer) return <Page at={at}><h1 tabIndex={-1}>{at.gone ? "No answer yet" : "One moment…"}</h1><Gone at={at} /></Page>;
  if (at.step === "seen") return <Page at={at}><Seen at={at} answer={at.answer} units={now.settings} /></Page>;
  return <Page at={at}><Choosing at={at} answer={at.answer} now={now} /></Page>;
}

function Page({ at, children }: { at: Lesson; children: preact.ComponentChildren }) {
  return (
    <main class="learn" data-step={at.step}>
      <header class="top">
        <button type="button" class="link" onClick={() => go("/")}>Back to the call</button>
        {at.step !== "start" && <Progress at={at} />}
      </header>
      {children}
    </main>
  );
}

/** Six dots, one for each rotation. */
function Progress({ at: { done } }: { at: Lesson }) {
  return (
    <p class="progress" role="img" aria-label={`${done.length} of 6 rotations seen`}>
      {Array.from({ length: 6 }, (_, i) => <i key={i} class={i < done.length ? "on" : ""} />)}
    </p>
  );
}

const HEADS: Partial<Record<Step, string>> = { find: "Find their setter", spot: "Where do you serve from?", target: "Where should the ball land?" };

function Choosing({ at, answer: { situation }, now }: { at: Lesson; answer: NonNullable<Lesson["answer"]>; now: State }) {
  const [setter] = at.ahead;
  const spot = situation.server.spots.find(({ name }) => name === at.spot);
  const wrong = at.wrong.at(-1);
  const first = at.done.length + at.missed.length === 0; // the hints are read once
  const said = at.step === "find" && wrong !== undefined ? `That is the player in ${wrong}, ${PLACE_WORDS[wrong]}. Look again.` : hintFor(at);
  return (
    <>
      <section class="words">
        <h1 tabIndex={-1}>{HEADS[at.step]}</h1>
        {at.step === "find" && setter !== undefined && <p class="task">She is in position <b>{setter}</b>: {PLACE_WORDS[setter]}. Tap her.</p>}
        {(first || wrong !== undefined) && <p class="hint">{said}</p>}
        {at.step === "find" && setter !== undefined && <Places setter={setter} />}
        {at.tooFar && <p class="notice" role="alert">From there this serve does not reach that place over the net. Aim nearer to the middle of the court.</p>}
        <Gone at={at} />
      </section>
      <section class="picture">
        <Board
          situation={situation} units={now.settings} named={at.wrong} found={at.step !== "find"} server={spot ?? null} target={at.step === "target" ? at.target : null}
          {...(at.step === "find" && { onTap: find })} {...(at.step === "target" && { onAim: aimAt })}
        />
      </section>
      <section class="thumb">
        {at.step !== "find" && <SpotPicker label="Your end line" picked={at.spot ? [at.spot] : []} onPick={pickSpot} />}
        {at.step === "target" && <button type="button" class="strong" onClick={() => void serveIt()}>Serve there</button>}
      </section>
      <Announcer text={said} />
    </>
  );
}

const Gone = ({ at }: { at: Lesson }) => !at.gone ? null : (
  <div class="notice" role="status">
    <p>Nothing answers at the moment.</p>
    <button type="button" onClick={() => void (at.answer ? serveIt() : fetchRound())}>Try again</button>
  </div>
);
