import { useState } from "preact/hooks";
import { withPose, type Of } from "../../actions/match/hands";
import type { Fingers, Signals } from "../../api/match";
import { Hand } from "../Hand";
import { poseInWords } from "../Signal";
import { capital, spoken } from "../words";

const KINDS: readonly (readonly [Of, string])[] = [["spot", "Where from"], ["zone", "Zone"], ["depth", "Depth"]];
const FINGERS = ["thumb", "index", "middle", "ring", "little"] as const;

/** Every pose of the code; tap one, then its fingers. A pose that another had is swapped with it. */
export function HandCode({ code, onChange }: { code: Signals; onChange: (code: Signals) => void }) {
  const [open, setOpen] = useState<readonly [Of, string] | null>(null);
  return (
    <div class="hand-code">
      {KINDS.map(([of, title]) => (
        <section key={of}>
          <h3>{title}</h3>
          <ul>
            {Object.entries(code[of] as Record<string, Fingers>).map(([name, fingers]) => {
              const isOpen = open?.[0] === of && open[1] === name;
              return (
                <li key={name}>
                  <button type="button" aria-expanded={isOpen} onClick={() => setOpen(isOpen ? null : [of, name])}>
                    <Hand fingers={fingers} /><span>{capital(spoken(name))}<span class="unseen">: {poseInWords(fingers)}</span></span>
                  </button>
                </li>
              );
            })}
          </ul>
          {open?.[0] === of && <Fingers fingers={(code[of] as Record<string, Fingers>)[open[1]] as Fingers} name={spoken(open[1])} onChange={(pose) => onChange(withPose(code, of, open[1], pose))} />}
        </section>
      ))}
    </div>
  );
}

function Fingers({ fingers, name, onChange }: { fingers: Fingers; name: string; onChange: (fingers: Fingers) => void }) {
  return (
    <div class="row five" role="group" aria-label={`Fingers for ${name}`}>
      {FINGERS.map((finger, i) => <button key={finger} type="button" class="light" aria-pressed={fingers[i] === true} onClick={() => onChange(fingers.map((up, k) => (k === i ? !up : up)))}>{finger}</button>)}
    </div>
  );
}
