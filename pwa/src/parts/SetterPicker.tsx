import type { Position } from "../api/types";

/** Their six positions as we see them across the net: back row far, front row at the net, their right on our left. */
const ROWS: readonly (readonly Position[])[] = [[1, 6, 5], [2, 3, 4]];

const PLACE: Record<Position, string> = {
  1: "right back", 2: "right front", 3: "middle front", 4: "left front", 5: "left back", 6: "middle back",
};

/** Six buttons in the shape of their half; the net is the thick line at the bottom. */
export function SetterPicker({ setter, onPick }: { setter: Position | null; onPick: (position: Position) => void }) {
  return (
    <div class="picker" role="group" aria-label="Their setter’s position, as we see them across the net">
      {ROWS.flat().map((position) => (
        <button
          key={position} type="button" class="place" aria-pressed={setter === position}
          aria-label={`Setter in ${position}, ${PLACE[position]}`} onClick={() => onPick(position)}
        >
          <span class="digit">{position}</span>
          <svg class="diamond" viewBox="-8 -8 16 16" aria-hidden="true"><path d="M0 -6.5 L6.5 0 L0 6.5 L-6.5 0 Z" /></svg>
        </button>
      ))}
      <span class="net" aria-hidden="true" />
    </div>
  );
}
