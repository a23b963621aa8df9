import { useEffect } from "preact/hooks";
import { compare, compared, type Pair, stopComparing } from "../actions/compare";
import { goBack } from "../actions/route";
import type { State } from "../actions/state";
import type { CallAnswer, Spot } from "../api/types";
import { Announcer } from "../parts/Announcer";
import { CallWords } from "../parts/CallWords";
import { Court } from "../parts/court/Court";
import { degrees, length, of100, plain, speed, type Units } from "../parts/units";
import { SpotPicker } from "../parts/SpotPicker";
import { useStore } from "../store/store";
import { StartView } from "./StartView";

const SAME = 1; // points in 100 under which two calls are as good as each other

interface Judged { readonly best: { readonly keep: number; readonly spot: Pick<Spot, "name">; readonly words: { readonly spot: string } } }

/** Returns the difference in one sentence. */
export function verdict([a, b]: Pair<Judged>): string {
  const points = 100 * (a.best.keep - b.best.keep);
  const better = points > 0 ? a.best : b.best;
  if (a.best.spot.name === b.best.spot.name) return "The same spot twice.";
  if (Math.abs(points) < SAME) return `As good as each other: ${plain(Math.abs(points))} in 100 apart.`;
  return `${better.words.spot} wins ${plain(Math.abs(points))} more in 100.`;
}

export function CompareView({ now }: { now: State }) {
  const { spots, answers, fault } = useStore(compared);
  useEffect(() => void compare(compared.get().spots), [now.question, now.stock, now.gone]);
  useEffect(() => stopComparing, []);
  if (now.question.setter === null) return <StartView now={now} />;
  const told = answers && !fault && answers.every(({ best }, i) => best.spot.name === spots[i]) ? verdict(answers) : null;
  return (
    <main class="compare-view">
      <header class="top">
        <button type="button" class="link" onClick={goBack}>Back to the call</button>
        <span class="situation">their setter in <b>{now.question.setter}</b></span>
      </header>
      <h1 tabIndex={-1}>{told ?? "Two spots side by side"}</h1>
      {fault && <p class="notice" role="status">{fault === "gone" ? `The server cannot be reached. ${answers ? "Below is the last pair it gave. " : ""}Trying again by itself.` : "There is no call for one of these spots."}</p>}
      <SpotPicker label="On the left" picked={[spots[0]]} onPick={(name) => void compare([name, spots[1]])} />
      <SpotPicker label="On the right" picked={[spots[1]]} onPick={(name) => void compare([spots[0], name])} />
      {answers && (
        <div class={`two${fault ? " stale" : ""}`}>
          <Side label="On the left" answer={answers[0]} units={now.settings} />
          <Side label="On the right" answer={answers[1]} units={now.settings} />
        </div>
      )}
      {told && <Announcer text={told} />}
    </main>
  );
}

function Side({ label, answer, units }: { label: string; answer: CallAnswer; units: Units }) {
  const call = answer.best;
  const rows: [string, string][] = [
    ["Wins", `${of100(call.keep)} of 100`], ["Misses", `${of100(call.p_error)} of 100`], ["Aces", `${of100(call.p_ace)} of 100`],
    ["Pass angle", degrees(call.pass_angle_deg)], ["Sight", degrees(call.sight_angle_deg)],
    ["Pass", length(call.pass_length_m, units.length)], ["Pace", speed(call.speed_m_s, units.speed)], ["Flight", `${plain(call.flight_time_s, 2)} s`],
  ];
  return (
    <section aria-label={label}>
      <h2><CallWords call={call} /></h2>
      <Court answer={answer} call={call} units={units} plainly />
      <dl class="numbers">{rows.map(([name, value]) => <div key={name}><dt>{name}</dt><dd>{value}</dd></div>)}</dl>
    </section>
  );
}
