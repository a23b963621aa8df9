import { signed } from "./units";

export interface Bar { readonly name: string; readonly value: number; readonly text: string }

const WIDE = 100;

/** Returns where a bar starts and how long it is, out of 100, and where the zero line stands. */
export function barPlaces(values: readonly number[]): { zero: number; bars: { start: number; length: number }[] } {
  const low = Math.min(0, ...values);
  const range = Math.max(1, Math.max(0, ...values) - low);
  const zero = (-low / range) * WIDE;
  return { zero, bars: values.map((value) => ({ start: zero + (Math.min(value, 0) / range) * WIDE, length: (Math.abs(value) / range) * WIDE })) };
}

/** Points in 100 as bars from a zero line, each with its number and a sentence. */
export function Bars({ bars, label }: { bars: readonly Bar[]; label: string }) {
  const { zero, bars: places } = barPlaces(bars.map(({ value }) => value));
  return (
    <ul class="bars" aria-label={label}>
      {bars.map(({ name, value, text }, i) => (
        <li key={name}>
          <span class="name">{name}</span>
          <span class="number">{signed(value)}</span>
          <svg viewBox={`-1 0 ${WIDE + 2} 12`} preserveAspectRatio="none" aria-hidden="true">
            <rect class={value < 0 ? "less" : "more"} x={places[i]?.start} y="2" height="8" width={places[i]?.length} />
            <line x1={zero} x2={zero} y1="0" y2="12" />
          </svg>
          <span class="text">{text}</span>
        </li>
      ))}
    </ul>
  );
}
