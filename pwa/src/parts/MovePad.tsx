/** Moves what is held by single taps, for whoever cannot or would rather not drag. */
import type { Call, Point } from "../api/types";
import { type Grip, stepped } from "./court/Grips";
import { edgesTouched } from "./court/curves";

const WAYS = [["Left", -1, 0, "M9 1 L2 8 L9 15"], ["Up", 0, 1, "M1 9 L8 2 L15 9"], ["Down", 0, -1, "M1 7 L8 14 L15 7"], ["Right", 1, 0, "M7 1 L14 8 L7 15"]] as const;

const SIDE = { left: "x_min_m", right: "x_max_m", near: "y_min_m", far: "y_max_m" } as const;

/** Returns who or what keeps it from going further, for the sides it has reached. */
export const heldBy = ({ place, limits }: Grip): string[] =>
  edgesTouched(place, limits).map((edge) => limits.by?.[SIDE[edge]] ?? "the edge of the zone");

interface MovePadProps {
  grip: Grip;
  /** The call as it stands now, for whoever cannot see it while the picture fills the screen. */
  call: Call;
  turned: boolean;
  inWords: (place: Point) => string;
  onMove: (key: string, to: Point) => void;
  onDone: () => void;
  onPutBack: () => void;
}

export function MovePad({ grip, call, turned, inWords, onMove, onDone, onPutBack }: MovePadProps) {
  const by = heldBy(grip);
  return (
    <div class="move-pad" role="group" aria-label={`Move ${grip.name}`}>
      <p class="follows"><b>{call.words.call}</b> <span class="caption">{call.words.odds}</span></p>
      <p class="what"><b>{grip.name}</b> <span class="caption">{inWords(grip.place)}{by.length > 0 && `. Held by ${by.join(" and ")}.`}</span></p>
      <div class="ways">
        {WAYS.map(([word, right, up, arrow]) => (
          <button key={word} type="button" onClick={() => onMove(grip.key, stepped(grip, [right, up], turned))}>
            <svg viewBox="0 0 16 16" aria-hidden="true"><path d={arrow} /></svg>
            <span>{word}</span>
          </button>
        ))}
      </div>
      <div class="pair">
        <button type="button" onClick={onPutBack}>Back to stock places</button>
        <button type="button" class="strong" onClick={onDone}>Done</button>
      </div>
    </div>
  );
}
