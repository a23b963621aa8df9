import { log } from "../../../actions/match/log";
import { Sheet } from "../../../parts/match/Sheet";
import { SetterPicker } from "../../../parts/SetterPicker";
import type { SheetProps } from "../Sheets";

/** Their setter is in …: one tap, at any moment. */
export function SetterSheet({ answer, onOpen }: SheetProps) {
  const { them } = answer.state.sides;
  return (
    <Sheet title="Their setter is in …" onClose={() => onOpen(null)}>
      <p class="caption">As you look at them across the net, now.</p>
      <div class="wide-picker">
        <SetterPicker
          setter={them.setter_position}
          onPick={(setter_position) => { onOpen(null); if (setter_position !== them.setter_position) void log([{ type: "lineup_corrected", side: "them", setter_position }], { said: "" }); }}
        />
      </div>
    </Sheet>
  );
}
