import { ROTATIONS, type Lesson } from "../../actions/learn";
import { Help } from "../../parts/Help";
import { Mini } from "./Mini";
import { Story } from "./Story";
import { rule } from "./words";

export function Intro({ against, onStart, onStock }: { against: string | null; onStart: () => void; onStock: () => void }) {
  return (
    <>
      <section class="words">
        <h1 tabIndex={-1}>Serve so that the pass is hard</h1>
        {against !== null && <p class="task">These are the rotations of <b>{against}</b>. <button type="button" class="link" onClick={onStock}>Learn with any team instead</button></p>}
        <ul class="pass-kinds">
          <li><b>Easy</b> to pass: straight back, to a setter in sight.</li>
          <li><b>Hard</b>: turned to the side, to a setter out of sight.</li>
          <li>The setter’s place changes: six <b>rotations</b>, each with its best serve.</li>
        </ul>
      </section>
      <section class="picture">
        <Story />
        <Help terms={["setter", "passer", "rotation", "position", "passTarget", "wins", "misses", "zone", "depth"]} />
      </section>
      <section class="thumb"><button type="button" class="strong" onClick={onStart}>Start: six rotations</button></section>
    </>
  );
}

export function End({ at, onAgain }: { at: Lesson; onAgain: () => void }) {
  const { missed, answers } = at;
  const first = ROTATIONS.length - missed.length;
  return (
    <>
      <section class="words wide">
        <h1 tabIndex={-1}>{missed.length === 0 ? "All six at first sight!" : "All six rotations seen"}</h1>
        {missed.length > 0 && <p class="task">{first} at first sight. Setter in {[...missed].sort().join(", ")}: seen the second time round.</p>}
        <p class="task"><b>{rule(at)}</b></p>
        <ul class="minis">
          {ROTATIONS.map((position) => answers[position] && <Mini key={position} position={position} answer={answers[position]} />)}
        </ul>
      </section>
      <section class="thumb"><button type="button" class="strong" onClick={onAgain}>Once more</button></section>
    </>
  );
}
