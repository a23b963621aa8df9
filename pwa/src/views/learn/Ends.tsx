import { ROTATIONS, type Lesson } from "../../actions/learn";
import { Legend } from "../../parts/Legend";

export function Intro({ against, onStart, onStock }: { against: string | null; onStart: () => void; onStock: () => void }) {
  return (
    <section class="words wide">
      <h1 tabIndex={-1}>Serve so that the pass is hard</h1>
      <ol class="story">
        <li><b>You serve</b> over the net. One of their <b>passers</b> plays the ball to their <b>setter</b>, and the setter to a hitter.</li>
        <li>An easy pass goes back the way the ball came, to a setter whom the passer can see.</li>
        <li>A hard one must <b>turn far to the side</b>, go a long way, and find a setter behind the passer’s back.</li>
        <li>Where the setter starts changes with each of six rotations. So the best corner to serve from changes too.</li>
      </ol>
      <Legend plainly />
      {against !== null && <p class="task">These are the rotations of <b>{against}</b>. <button type="button" class="link" onClick={onStock}>Learn with any team instead</button></p>}
      <button type="button" class="strong" onClick={onStart}>Start: six rotations</button>
    </section>
  );
}

export function End({ at: { missed }, onAgain }: { at: Lesson; onAgain: () => void }) {
  const first = ROTATIONS.length - missed.length;
  return (
    <section class="words wide">
      <h1 tabIndex={-1}>{missed.length === 0 ? "All six at first sight" : "All six rotations seen"}</h1>
      {missed.length > 0 && <p class="task">{first} at first sight. Setter in {[...missed].sort().join(", ")}: seen the second time round.</p>}
      <p class="hint">What was worth most: first find the setter, then serve from where the ball does not fly over her.</p>
      <button type="button" class="strong" onClick={onAgain}>Once more</button>
    </section>
  );
}
