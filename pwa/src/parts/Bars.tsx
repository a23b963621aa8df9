import { signed } from "./units";

export interface Bar { readonly name: string; readonly value: number; readonly text: string }

const HALF = 50;

/** Points in 100 as bars from a zero line, each with its number and a sentence. */
export function Bars({ bars, label }: { bars: readonly Bar[]; label: string }) {
  const largest = Math.max(1, ...bars.map(({ value }) => Math.abs(value)));
  return (
    <ul class="bars" aria-label={label}>
      {bars.map(({ name, value, text }) => (
        <li key={name}>
          <span class="name">{name}</span>
          <svg viewBox={`0 0 ${2 * HALF} 14`} preserveAspectRatio="none" aria-hidden="true">
            <rect class={value < 0 ? "less" : "more"} x={value < 0 ? HALF + (HALF * value) / largest : HALF} y="3" height="8" width={Math.max(0.4, (HALF * Math.abs(value)) / largest)} />
            <line x1={HALF} x2={HALF} y1="0" y2="14" />
          </svg>
          <span class="number">{signed(value)}</span>
          <span class="text">{text}</span>
        </li>
      ))}
    </ul>
  );
}
