import { useState } from "preact/hooks";
import { typed } from "../../actions/match/sheet";

const DIGITS = [1, 2, 3, 4, 5, 6, 7, 8, 9] as const;

/** Ten digits, wipe, and a word to go on. */
export function Pad({ onDigit, onWipe, done, onDone }: { onDigit: (digit: number) => void; onWipe: () => void; done: string; onDone: () => void }) {
  return (
    <div class="digits" role="group" aria-label="Digits">
      {DIGITS.map((d) => <button key={d} type="button" onClick={() => onDigit(d)}>{d}</button>)}
      <button type="button" class="word" onClick={onWipe}>Wipe</button>
      <button type="button" onClick={() => onDigit(0)}>0</button>
      <button type="button" class="word strong" onClick={onDone}>{done}</button>
    </div>
  );
}

/** Numbers to tap, and a pad for any other. */
export function NumberChoice({ label, numbers, onPick, marks = {} }: { label: string; numbers: readonly number[]; onPick: (number: number) => void; marks?: Readonly<Record<number, string>> }) {
  const [other, setOther] = useState<{ value: number | null } | null>(numbers.length === 0 ? { value: null } : null);
  return (
    <div class="number-choice" role="group" aria-label={label}>
      <p class="caption" aria-hidden="true">{label}</p>
      <div class="chips">
        {numbers.map((n) => (
          <button key={n} type="button" class="chip" onClick={() => onPick(n)}>{n}{marks[n] && <span class="caption">{marks[n]}</span>}</button>
        ))}
        {!other && <button type="button" class="chip word" onClick={() => setOther({ value: null })}>other</button>}
      </div>
      {other && (
        <>
          <p class="typed" aria-live="polite">{other.value ?? "number?"}</p>
          <Pad
            onDigit={(d) => setOther({ value: typed(other.value, d) })} onWipe={() => setOther({ value: null })}
            done="Take" onDone={() => other.value !== null && onPick(other.value)}
          />
        </>
      )}
    </div>
  );
}
