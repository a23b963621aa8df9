import { prefer, type Prefs } from "../../../actions/match/prefs";
import { Sheet } from "../../../parts/match/Sheet";
import type { SheetProps } from "../Sheets";

const TICKS: readonly (readonly ["leftHanded" | "secondsBar" | "stayAwake" | "vibrate", string])[] = [
  ["leftHanded", "For the left hand: columns mirrored"],
  ["secondsBar", "Seconds to serve as a bar"],
  ["stayAwake", "Keep the screen on"],
  ["vibrate", "A short buzz at each tap"],
];

/** How this screen behaves on this device. */
export function LikedSheet({ liked, onOpen }: SheetProps) {
  return (
    <Sheet title="This screen" onClose={() => onOpen(null)}>
      {TICKS.map(([name, words]) => (
        <label key={name} class="tick"><input type="checkbox" checked={liked[name]} onChange={(event) => prefer({ [name]: event.currentTarget.checked } as Partial<Prefs>)} /> {words}</label>
      ))}
    </Sheet>
  );
}
