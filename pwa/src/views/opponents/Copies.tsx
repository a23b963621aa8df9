import { useState } from "preact/hooks";
import { copyTo, editing, standsAs } from "../../actions/opponents/formation";
import type { OpponentProfile } from "../../api/opponents";
import { POSITIONS, type Position } from "../../api/types";
import { useStore } from "../../store/store";

/** The same formation for other rotations; one that was entered or dragged is replaced only when asked twice. */
export function Copies({ profile }: { profile: OpponentProfile }) {
  const now = useStore(editing);
  const [over, setOver] = useState<Position | null>(null);
  const others = POSITIONS.filter((position) => position !== now.setter);
  const free = others.filter((position) => standsAs(now, profile, position) === "stock");
  const copy = (to: readonly Position[]): void => {
    setOver(null);
    void copyTo(to);
  };
  return (
    <details class="copies">
      <summary>Copy to other rotations</summary>
      <div class="passing" role="group" aria-label="Copy to the rotation with their setter in">
        {others.map((position) => (
          <button key={position} type="button" class="chip" disabled={now.saving} aria-pressed={over === position} onClick={() => (free.includes(position) ? copy([position]) : setOver(position))}>
            <span class="unseen">setter in </span>{position}<span class="caption">{standsAs(now, profile, position)}</span>
          </button>
        ))}
        {free.length > 1 && <button type="button" class="chip word" disabled={now.saving} onClick={() => copy(free)}>all {free.length} stock ones</button>}
      </div>
      {over !== null && (
        <div class="notice" role="alert">
          <p><b>Replace what {standsAs(now, profile, over) === "entered" ? "is entered" : "was dragged"} for their setter in {over}?</b> What stood there is gone for everyone in the club.</p>
          <button type="button" onClick={() => copy([over])}>Replace it</button>
          <button type="button" onClick={() => setOver(null)}>Keep it</button>
        </div>
      )}
      <p role="status">{now.said}</p>
    </details>
  );
}
