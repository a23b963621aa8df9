import type { ComponentChildren } from "preact";

const ITEMS: readonly (readonly [string, ComponentChildren])[] = [
  ["serve", <path class="serve" d="M2 7 H30" />],
  ["pass", <path class="pass" d="M3 7 H30" />],
  ["half the serves", <ellipse class="ring-of-half" cx="16" cy="7" rx="12" ry="5" />],
  ["passer", <circle class="passer" cx="16" cy="7" r="6" />],
  ["setter", <path class="setter" d="M16 0.5 L22.5 7 L16 13.5 L9.5 7 Z" />],
  ["stay off", <path class="cross" d="M11.5 2.5 l9 9 m0 -9 l-9 9" />],
];

/** What the lines and shapes of the picture mean; `plainly` for pictures without the lane to stay off. */
export function Legend({ plainly = false }: { plainly?: boolean }) {
  return (
    <ul class="legend" aria-label="Signs in the picture">
      {ITEMS.filter(([word]) => !plainly || word !== "stay off").map(([word, sign]) => (
        <li key={word}><svg viewBox="0 0 32 14" aria-hidden="true">{sign}</svg>{word}</li>
      ))}
    </ul>
  );
}
