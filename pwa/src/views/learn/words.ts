/** What the lesson says, in words that need no knowledge of the game. */
import { AS_GOOD, behind, CLOSE, ROTATIONS, seenAtOnce, type Lesson } from "../../actions/learn";
import type { Call, CallAnswer, Position } from "../../api/types";
import { isAtHome } from "../../parts/court/Floor";
import { of100 } from "../../parts/units";
import { spoken } from "../../parts/words";

/** Where a position is, as we see it across the net: their right is our left. */
export const PLACE_WORDS: Readonly<Record<Position, string>> = {
  1: "back row, left", 2: "at the net, left", 3: "at the net, middle",
  4: "at the net, right", 5: "back row, right", 6: "back row, middle",
};

export const REVEAL_AFTER = 2; // wrong taps: then she is shown

/** Returns what is said to the player who looks for the setter. */
export function findHint({ wrong }: Lesson, { situation: { players } }: CallAnswer): string {
  const last = wrong.at(-1);
  if (wrong.length >= REVEAL_AFTER) return "Here she is, in the dashed ring. Tap her.";
  if (last === undefined) return "The big rings pass. She is a small one, ready to run to the net. Tap her.";
  const tapped = players.find(({ position }) => position === last);
  if (tapped?.role === "passer") return `${isAtHome(last, tapped) ? `That is ${last}, who passes` : `She has come from ${last} to pass`}. The setter is a small ring.`;
  return `Nearly! That one is in ${last}, ${PLACE_WORDS[last]}. Try another small ring.`;
}

const ASIDE_M = 1; // chosen: nearer the middle a setter is on neither side
const isAside = ({ situation: { setter_start } }: CallAnswer): boolean => Math.abs(setter_start.x_m) > ASIDE_M;
const isAcross = ({ situation: { setter_start }, best }: CallAnswer): boolean => best.spot.x_m * setter_start.x_m < 0;

/** Returns what to know before choosing a spot; of the other side only where that is best. */
export function spotHint(answer: CallAnswer): string {
  const ways = "The setter (diamond) runs to the empty ring; the pass must go there.";
  return isAside(answer) && isAcross(answer) ? `${ways} Serve from the side away from her.` : ways;
}

export const TARGET_HINT = "Tap the court. Pick a passer who must look far from the ball to see the setter. Near the lines more serves miss.";
export const BEYOND_WORDS = {
  put_back: "The ball does not reach that place. The mark is where it still gets: serve, or aim elsewhere.",
  nowhere: "No serve from here gets into their court. Choose another place to stand.",
} as const;

/** Whether what a serve lacks is mostly that it misses more often: a serve that stays in wins as often as the best one that does. */
const misses = (serve: Call, best: Call): boolean => (serve.p_error - best.p_error) * (best.keep / best.p_in) >= (best.keep - serve.keep) / 2;

/** Returns how good the chosen serve was, and why; the numbers stand below. */
export function verdict(now: Lesson): string {
  const { serve, answer } = now;
  const points = behind(now);
  if (!serve || !answer || points <= AS_GOOD) return "As good as the best!";
  if (points <= CLOSE) return "Very close!";
  const kept = serve.spot.name === answer.best.spot.name && serve.passer.position === answer.best.passer.position;
  if (misses(serve, answer.best)) return kept ? "Good idea, but risky" : "Too risky";
  return kept ? "Good idea, a bit easy" : "Too easy to pass";
}

/** Returns what to learn from a rotation that was not seen at once. */
export function toLearn(now: Lesson): string {
  const { serve, answer, wrong } = now;
  if (!serve || !answer) return "";
  if (behind(now) <= CLOSE) {
    if (wrong.length > 0) return "But the setter was hard to find: once more, later.";
    return seenAtOnce(now) ? "" : "Now you know. Once more, later.";
  }
  const { best } = answer;
  if (misses(serve, best)) return `${of100(serve.p_error)} of 100 go out or into the net. ${serve.target.on_the_line ? "Aim further from the line." : "The best aims where fewer do."}`;
  return `${easyBecause(serve, best)} ${betterFrom(serve, best)}`;
}

const TELLING_DEG = 5; // chosen: smaller differences are no reason

function easyBecause(serve: Call, best: Call): string {
  const [sight, turn] = [best.sight_angle_deg - serve.sight_angle_deg, best.pass_angle_deg - serve.pass_angle_deg];
  if (Math.max(sight, turn) < TELLING_DEG) return "The pass is not hard enough.";
  return sight >= turn ? "The passer sees the setter too well." : "The passer need not turn the ball much.";
}

function betterFrom({ spot, passer }: Call, best: Call): string {
  if (spot.name !== best.spot.name) return `Better from the ${spoken(best.spot.name)}.`;
  if (passer.position === best.passer.position) return "See the best.";
  return `Better to ${best.passer.number === null ? `the passer in ${best.passer.label}` : `#${best.passer.number}`}.`;
}

/** Returns the rule that the best serves of the six rotations follow, if they do. */
export function rule({ answers }: Lesson): string {
  const all = ROTATIONS.flatMap((position) => answers[position] ?? []).filter(isAside);
  return all.length > 0 && all.every(isAcross) ? "Find the setter, then serve from the other side." : "Find the setter first: the best serve changes with her.";
}
