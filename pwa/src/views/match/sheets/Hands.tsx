import { useState } from "preact/hooks";
import { codeOf, saveSignals } from "../../../actions/match/hands";
import type { Signals } from "../../../api/match";
import { HandCode } from "../../../parts/match/HandCode";
import { Sheet } from "../../../parts/match/Sheet";
import type { SheetProps } from "../Sheets";

/** Our team's code of the hands: every pose can be changed, also in a match, when it has been read. */
export function HandsSheet({ now, onOpen }: SheetProps) {
  const [fault, setFault] = useState("");
  const code = codeOf(now);
  const save = async (signals: Signals): Promise<void> => setFault(await saveSignals(signals));
  return (
    <Sheet title="Hand signals" onClose={() => onOpen(null)}>
      {code ? <HandCode code={code} onChange={(signals) => void save(signals)} /> : <p>They are on the server, which was not reached yet.</p>}
      {fault && <p class="notice" role="alert">{fault}</p>}
    </Sheet>
  );
}
