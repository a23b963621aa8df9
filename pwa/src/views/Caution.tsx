import { acknowledge } from "../actions/caution";

/** What everyone reads before the first serve. Adapted from the sources named below it. */
export function Caution() {
  return (
    <section class="caution" aria-labelledby="caution-title">
      <h1 id="caution-title" tabIndex={-1}>Before the first serve</h1>
      <ul>
        <li>Serve only when everyone on the far side is watching and the floor is clear of loose balls. All serve in one direction.</li>
        <li>After a blow to the head, or with dizziness, headache or confusion: stop, do not return that day, and have the player assessed by a licensed health professional.</li>
        <li>Pain in shoulder, elbow or back: stop serving and ask a physician, physiotherapist or athletic trainer before going on.</li>
        <li>No number of serves is set here. Follow your federation’s and clinician’s advice, above all for growing players.</li>
      </ul>
      <p class="caption">A tactical aid, not medical advice.</p>
      <button type="button" class="strong" onClick={acknowledge}>Read. The floor is clear</button>
    </section>
  );
}
