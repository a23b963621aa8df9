import { TURNS, type BookShown } from "../../actions/opponents/book";
import type { BookCall, BookRotation } from "../../api/opponents";
import { state } from "../../actions/state";
import { inUnits } from "../../parts/units";
import { spoken } from "../../parts/words";
import { comesInWords, meetsWords, RotationHalf, setterWords } from "./rotation";
import { LEVEL_NAMES } from "./words";

// Measured by tests/e2e/test_opponents.py: what one page of either size holds.
const MOST = 10;
const ROOMY = 7; // with so many there is room for the run after the serve as well, and for long names

/** The book on one page, for a bench without devices. On the screen it is not shown. */
export function Card({ now: { turns, opponent, team, serving_first } }: { now: BookShown }) {
  const rotations = TURNS.flatMap((turn) => turns[turn]?.rotations ?? []);
  if (rotations.length < 6 || !opponent || !team) return null;
  const servers = rotations[0]?.calls.length ?? 0;
  const level = turns[1]?.level;
  return (
    <section class="card" aria-hidden="true">
      <header>
        <b>Against {opponent.name}</b> <span>{[team.name, level && LEVEL_NAMES[level], serving_first && (serving_first === "us" ? "we serve first" : "they serve first")].filter(Boolean).join(" · ")}</span>
        {opponent.notes && <p>{opponent.notes}</p>}
        {servers > MOST && <p>{servers - MOST} more servers have no room here: choose the line-up in the book, and print again.</p>}
      </header>
      <div class={`blocks${servers <= ROOMY ? "" : " dense"}`}>{rotations.map((rotation) => <Block key={rotation.turn} rotation={rotation} roomy={servers <= ROOMY} />)}</div>
      <footer>Wins: of 100 rallies on this serve. Misses: of 100 serves. Spots are on our end line as we stand; zones on their side.</footer>
    </section>
  );
}

function Block({ rotation, roomy }: { rotation: BookRotation; roomy: boolean }) {
  return (
    <article class="block">
      <div class="place"><b class="turn-number">{rotation.turn}</b><RotationHalf rotation={rotation} /><span>{setterWords(rotation)}</span>{rotation.server !== null && <b>{meetsWords(rotation)}</b>}</div>
      <ul>{rotation.calls.slice(0, MOST).map((one) => <Row key={one.server} one={one} roomy={roomy} />)}</ul>
    </article>
  );
}

function Row({ one, roomy }: { one: BookCall; roomy: boolean }) {
  const { call, meets } = one;
  return (
    <li class={meets ? "meets" : ""}>
      <p class="who">#{one.server} <span>{comesInWords(one)}</span> {one.name}</p>
      {call ? <><p class="the-call">{call.words.call}</p><p>{call.words.odds} · {spoken(call.kind)}</p>{roomy && call.next_job?.long && <p>then {inUnits(`${Math.round(call.next_job.distance_m)} m`, state.get().settings)} to {call.next_job.position}</p>}</> : <p>{one.text}</p>}
    </li>
  );
}
