/** Moves what is held by single taps, for whoever cannot or would rather not drag. */
import type { Point } from "../api/types";
import { type Grip, stepped } from "./court/Grips";
import { edgesTouched } from "./court/marks";
import type { Units } from "./units";
import { placeInWords } from "./words";

const WAYS = [["Left", -1, 0, "M9 1 L2 8 L9 15"], ["Up", 0, 1, "M1 9 L8 2 L15 9"], ["Down", 0, -1, "M1 7 L8 14 L15 7"], ["Right", 1, 0, "M7 1 L14 8 L7 15"]] as const;

interface MovePadProps {
  grip: Grip;
  turned: boolean;
  units: Units;
  onMove: (key: string, to: Point) => void;
  onDone: () => void;
  onPutBack: () => void;
}

export function MovePad({ grip, turned, units, onMove, onDone, onPutBack }: MovePadProps) {
  const stopped = edgesTouched(grip.place, grip.limits).length > 0;
  return (
    <div class="move-pad" role="group" aria-label={`Move ${grip.name}`}>
      <p class="what"><b>{grip.name}</b> <span class="caption">{placeInWords(grip.place, units)}{stopped ? ". As far as it may go." : ""}</span></p>
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
