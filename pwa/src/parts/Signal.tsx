import type { Pose } from "../api/types";
import { Hand } from "./Hand";

const FINGER_NAMES = ["thumb", "index", "middle", "ring", "little finger"];

/** Returns a pose in words: "fist", "open hand", or the fingers that are up. */
export function poseInWords(fingers: readonly boolean[]): string {
  const up = FINGER_NAMES.filter((_, i) => fingers[i]);
  if (up.length === 0) return "fist";
  return up.length === 5 ? "open hand" : up.join(", ");
}

/** The hand signal: its poses in the order in which they are shown. */
export function Signal({ poses }: { poses: readonly Pose[] }) {
  return (
    <ol class="signal" aria-label="Hand signal, in this order">
      {poses.map(({ of, text, fingers }) => (
        <li key={of}>
          <Hand fingers={fingers} />
          <span class="pose">{text}<span class="unseen">: {poseInWords(fingers)}</span></span>
        </li>
      ))}
    </ol>
  );
}
