import type { QrOpts } from "qr";
import { useEffect, useMemo, useState } from "preact/hooks";
import { codesOf, keepPace, partsOf, recallPace, type Hand } from "../../actions/carry/hand";
import { stayAwake } from "../../actions/match/device";
import { QR_LEVEL, QR_VERSION } from "../../sync/frames";
import { QrCode } from "../../parts/qr/QrCode";
import { useArrive } from "../../parts/useArrive";

/** How long each code stands. [ms] chosen: under three changes a second (WCAG 2.2, 2.3.1), and each is seen by ten pictures of a camera. */
const PACES_MS = [350, 700, 1400] as const;
const OPTIONS: QrOpts = { encoding: "alphanumeric", version: QR_VERSION, ecc: QR_LEVEL };
const still = (): boolean => matchMedia("(prefers-reduced-motion: reduce)").matches;

/** The codes of a match, one after the other, round and round. */
export function Codes({ hand }: { hand: Hand }) {
  const [shown, show] = useState(false);
  return (
    <section class="codes" aria-labelledby="codes-title">
      {shown ? <Cycling hand={hand} onHide={() => show(false)} /> : (
        <>
          <h2 id="codes-title">By camera, without any network</h2>
          <button type="button" class="strong" onClick={() => show(true)}>Show codes</button>
          <p class="caption">On the other phone: Matches, Take over, Scan.</p>
        </>
      )}
    </section>
  );
}

function Cycling({ hand, onHide }: { hand: Hand; onHide: () => void }) {
  const parts = useMemo(() => partsOf(hand.rows).map((part) => ({ ...part, codes: codesOf(hand, part) })), [hand]);
  const [key, setKey] = useState("all");
  const [at, setAt] = useState(0);
  const [going, setGoing] = useState(!still());
  const [pace, setPace] = useState(0);
  const codes = (parts.find((part) => part.key === key) ?? parts[0])?.codes ?? [];
  useEffect(() => {
    void recallPace().then((kept) => kept !== undefined && setPace(kept % PACES_MS.length));
    void stayAwake(true);
    return () => void stayAwake(false);
  }, []);
  useEffect(() => {
    if (!going || codes.length < 2) return undefined;
    const timer = setInterval(() => setAt((now) => (now + 1) % codes.length), PACES_MS[pace] ?? PACES_MS[0]);
    return () => clearInterval(timer);
  }, [going, pace, codes]);
  const slower = (): void => {
    setPace((pace + 1) % PACES_MS.length);
    void keepPace((pace + 1) % PACES_MS.length);
  };
  return (
    <>
      <h2 ref={useArrive()} tabIndex={-1} id="codes-title" class="unseen">Codes</h2>
      <div class="white"><QrCode text={codes[at] ?? ""} label={`Code ${at + 1} of ${codes.length}`} options={OPTIONS} /></div>
      <p class="which"><b>Code {at + 1} of {codes.length}</b> <span class="caption">{codes.length > 1 ? "round and round, in any order" : "one is enough"}</span></p>
      {codes.length > 1 && (
        <div class="steps">
          <button type="button" onClick={() => setGoing(!going)}>{going ? "Pause" : "Go on"}</button>
          <button type="button" onClick={() => { setGoing(false); setAt((at + 1) % codes.length); }}>Next</button>
          <button type="button" onClick={slower}>{pace === PACES_MS.length - 1 ? "Faster" : "Slower"}</button>
        </div>
      )}
      {parts.length > 1 && (
        <div class="chips" role="group" aria-label="What to hand over">
          {parts.map((part) => (
            <button key={part.key} type="button" class="chip word" aria-pressed={part.key === key} onClick={() => { setKey(part.key); setAt(0); }}>
              {part.name}<span class="caption">{part.codes.length} {part.codes.length === 1 ? "code" : "codes"}</span>
            </button>
          ))}
        </div>
      )}
      <ul class="caption hints">
        <li>Screen bright, no lamp mirrored in it.</li>
        <li>The other phone about 30 cm away, so that the code fills most of its picture.</li>
      </ul>
      <button type="button" class="quiet" onClick={onHide}>Hide the codes</button>
    </>
  );
}
