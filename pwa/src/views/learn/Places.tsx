import type { Position } from "../../api/types";

const ROWS: readonly Position[] = [1, 6, 5, 2, 3, 4];

/** Their six positions as we see them across the net, the one to look for filled. */
export function Places({ setter }: { setter: Position }) {
  return (
    <figure class="places">
      <div class="picker" role="img" aria-label={`Their six positions; the setter is in ${setter}`}>
        {ROWS.map((position) => <span key={position} class={`place${position === setter ? " here" : ""}`}>{position}</span>)}
        <span class="net" />
      </div>
      <figcaption class="caption">Their positions, the net below. They stand elsewhere to receive, but neighbours keep their order.</figcaption>
    </figure>
  );
}
