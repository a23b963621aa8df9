/** For players, on a phone or a projector: one rotation after the other, nothing to sign in to and nothing kept. */
import { useEffect } from "preact/hooks";
import "../styles";
import { aimAt, begin, fetchRound, find, lesson, pickSpot, serveIt, teach, type Lesson, type Step } from "../../actions/learn";
import { go, opponentPath } from "../../actions/route";
import type { CallAnswer } from "../../api/types";
import type { State } from "../../actions/state";
import { Announcer } from "../../parts/Announcer";
import { Board } from "../../parts/court/Board";
import { stands } from "../../parts/court/stands";
import { SpotPicker } from "../../parts/SpotPicker";
import { useStore } from "../../store/store";
import { End, Intro } from "./Ends";
import { Progress } from "./Progress";
import { Seen } from "./Seen";
import { BEYOND_WORDS, findHint, PLACE_WORDS, REVEAL_AFTER, spotHint, TARGET_HINT } from "./words";

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
        <button type="button" class="link" onClick={() => go(at.opponent ? opponentPath(at.opponent.id) : "/")}>Leave</button>
        {at.step !== "start" && <Progress at={at} />}
      </header>
      {children}
    </main>
  );
}

const HEADS: Partial<Record<Step, string>> = { find: "Find their setter", spot: "Where do you stand?", target: "Aim your serve" };

function Choosing({ at, answer, now }: { at: Lesson; answer: CallAnswer; now: State }) {
  const { ahead: [setter], missed, done, step, wrong } = at;
  const { situation } = answer;
  const spot = stands(situation.server.spots).find(({ name }) => name === at.spot);
  const again = setter !== undefined && missed.includes(setter);
  const first = again || done.length + missed.length === 0; // later the hints are known
  const hint = step === "find" ? findHint(at, answer) : first ? (step === "spot" ? spotHint(answer) : TARGET_HINT) : "";
  return (
    <>
      <section class="words">
        <h1 tabIndex={-1}>{HEADS[step]}</h1>
        {step === "find" && setter !== undefined && <p class="task">{again ? "Again:" : "She is in"} position <b>{setter}</b>, {PLACE_WORDS[setter]}.</p>}
        {at.beyond ? <p class="notice" role="alert">{BEYOND_WORDS[at.beyond]}</p> : <p class="hint">{hint}</p>}
        <Gone at={at} />
      </section>
      <section class="picture">
        <Board
          situation={situation} units={now.settings} named={wrong} found={step !== "find"} shown={wrong.length >= REVEAL_AFTER} server={spot ?? null}
          target={step === "target" ? at.target : null}
          {...(step === "find" ? { onTap: find } : { onStand: pickSpot })} {...(step === "target" && { onAim: aimAt })}
        />
      </section>
      <section class="thumb">
        {step !== "find" && <SpotPicker label="Your end line" picked={at.spot ? [at.spot] : []} onPick={pickSpot} />}
        {step === "target" && <button type="button" class="strong" aria-disabled={at.waiting} onClick={() => void serveIt()}>{at.waiting ? "The ball flies…" : "Serve there"}</button>}
      </section>
      <Announcer text={hint} />
    </>
  );
}

const Gone = ({ at }: { at: Lesson }) => !at.gone ? null : (
  <div class="notice" role="status">
    <p>Nothing answers at the moment.</p>
    <button type="button" onClick={() => void (at.answer ? serveIt() : fetchRound())}>Try again</button>
  </div>
);
