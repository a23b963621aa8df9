import { SPOT_NAMES, type SpotName } from "../api/types";
import { capital, spoken } from "./words";

/** The end line with its five spots; those picked are filled. */
export function SpotPicker({ label, picked, onPick }: { label: string; picked: readonly SpotName[]; onPick: (spot: SpotName) => void }) {
  return (
    <div class="spot-picker" role="group" aria-label={label}>
      <p class="caption" aria-hidden="true">{label}</p>
      {SPOT_NAMES.map((name) => (
        <button key={name} type="button" aria-pressed={picked.includes(name)} onClick={() => onPick(name)}>
          <svg viewBox="0 0 16 16" aria-hidden="true"><circle cx="8" cy="8" r="6" /></svg>
          {capital(spoken(name))}
        </button>
      ))}
    </div>
  );
}
