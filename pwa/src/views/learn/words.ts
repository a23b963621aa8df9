/** What the lesson says, in words that need no knowledge of the game. */
import { AS_GOOD, behind, CLOSE, type Lesson } from "../../actions/learn";
import type { Call, Position } from "../../api/types";
import { plain } from "../../parts/units";
import { capital } from "../../parts/words";

/** Where a position is, as we see it across the net: their right is our left. */
export const PLACE_WORDS: Readonly<Record<Position, string>> = {
  1: "back row, on our left", 2: "at the net, on our left", 3: "at the net, in the middle",
  4: "at the net, on our right", 5: "back row, on our right", 6: "back row, in the middle",
};

export function hintFor({ step }: Lesson): string {
  if (step === "find") return "The far half is theirs. She does not pass: she runs to the net for the second touch.";
  if (step === "spot") return "The diamond is the setter; the dashed line is her way. A pass is hard when the ball comes from the side away from her.";
  return "Make a passer turn far, away from the small ring where the pass should go. Tap the court.";
}

const turn = (deg: number): string => (deg < 25 ? "almost straight back" : deg < 45 ? "a little to the side" : deg < 70 ? "far to the side" : "very far to the side");

/** Returns what the angle of a serve means for the passer. */
export const turnInWords = ({ pass_angle_deg }: Call): string =>
  `The passer must send the ball ${turn(pass_angle_deg)}: by ${plain(pass_angle_deg, 0)}°.`;

/** Returns what counts most for or against a serve, beside its angle. */
export function whyInWords({ reasons }: Call): string {
  const most = reasons.find(({ part }) => part !== "pass_angle");
  return most ? `${capital(most.text)}.` : "";
}

/** Returns how good the chosen serve was. */
export function verdict(now: Lesson): string {
  const points = behind(now);
  if (points <= AS_GOOD) return "As good as the best";
  const shown = now.serve && now.answer ? Math.max(1, Math.round(100 * now.answer.best.keep) - Math.round(100 * now.serve.keep)) : 0; // as the two numbers below it
  if (points <= CLOSE) return `Close: ${shown} in 100 behind the best`;
  return `The best wins ${shown} more in 100`;
}
