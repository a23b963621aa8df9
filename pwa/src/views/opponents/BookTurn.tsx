import { useRef } from "preact/hooks";
import { TURNS, turnTo, type BookShown } from "../../actions/opponents/book";
import type { BookCall } from "../../api/opponents";
import { spoken } from "../../parts/words";
import { comesInWords, equalWords, meetsWords, RotationHalf, serverWords, setterWords } from "./rotation";

const SWIPE_PX = 56; // chosen: a wish, not a scroll gone astray

/** One rotation, for a phone: swiped or tapped through in the order in which they meet. */
export function BookTurn({ now: { turns, turn } }: { now: BookShown }) {
  const from = useRef<{ x: number; y: number } | null>(null);
  const rotation = turns[turn]?.rotations[0];
  const down = ({ touches: [finger] }: TouchEvent): void => void (from.current = finger ? { x: finger.clientX, y: finger.clientY } : null);
  const up = ({ changedTouches: [finger] }: TouchEvent): void => {
    if (!finger || !from.current) return;
    const [across, along] = [finger.clientX - from.current.x, finger.clientY - from.current.y];
    if (Math.abs(across) > SWIPE_PX && Math.abs(across) > 2 * Math.abs(along)) turnTo(turn + (across < 0 ? 1 : -1));
  };
  return (
    <section class="book-turn" aria-label={`Rotation ${turn} of 6`} onTouchStart={down} onTouchEnd={up}>
      <div class="turn-row">
        <button type="button" onClick={() => turnTo(turn - 1)} aria-label="Rotation before">←</button>
        <p class="progress" role="img" aria-label={`Rotation ${turn} of 6`}>{TURNS.map((one) => <i key={one} class={one === turn ? "on" : ""} />)}</p>
        <button type="button" onClick={() => turnTo(turn + 1)} aria-label="Next rotation">→</button>
      </div>
      {rotation ? (
        <>
          <div class="which-rotation">
            <RotationHalf rotation={rotation} />
            <h2>{setterWords(rotation)}{rotation.server !== null && <span class="caption">{meetsWords(rotation)}</span>}{!rotation.formation_entered && <span class="caption">stock formation</span>}</h2>
          </div>
          <ul class="book-calls">{[...rotation.calls].sort((a, b) => Number(b.meets) - Number(a.meets)).map((one) => <Line key={one.server} one={one} />)}</ul>
        </>
      ) : <p class="caption">Not there yet…</p>}
    </section>
  );
}

function Line({ one }: { one: BookCall }) {
  const { call, equals, meets } = one;
  return (
    <li class={meets ? "meets" : ""}>
      <p class="who">{serverWords(one)} <span class="caption">{comesInWords(one)}</span></p>
      {call ? (
        <>
          <p class="the-call">{call.words.call}</p>
          <p class="caption">{call.words.odds} · {spoken(call.kind)}</p>
          {equals.length > 0 && <p class="caption">as good: {equals.map((other) => equalWords(other, call)).join("; ")}</p>}
          {call.next_job?.text && <p class="caption">{call.next_job.text}</p>}
        </>
      ) : <p>{one.text}</p>}
    </li>
  );
}
