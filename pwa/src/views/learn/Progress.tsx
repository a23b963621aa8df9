import { ROTATIONS, type Lesson } from "../../actions/learn";

/** One dot for each rotation: filled when it was seen, ringed while it is on, struck when it comes back. */
export function Progress({ at: { ahead: [present], done, missed, step } }: { at: Lesson }) {
  return (
    <p class="progress" role="img" aria-label={`${done.length} of 6 rotations seen`}>
      {ROTATIONS.map((position) => {
        const state = done.includes(position) ? "on" : missed.includes(position) ? "back" : "";
        return <i key={position} class={`${state}${position === present && step !== "end" ? " here" : ""}`} />;
      })}
    </p>
  );
}
