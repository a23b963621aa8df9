/** A hand that counts: the left one, palm to the reader, drawn with one line. */

interface Finger { readonly left: number; readonly right: number; readonly knuckle: number; readonly tip: number }

/** Index to little finger, in units of the drawing. */
const FINGERS: readonly Finger[] = [
  { left: 21, right: 31, knuckle: 40, tip: 9 },
  { left: 32, right: 42, knuckle: 38, tip: 4 },
  { left: 43, right: 53, knuckle: 40, tip: 8 },
  { left: 54, right: 63, knuckle: 43, tip: 17 },
];

const WRIST_LEFT = "M30 86 C29 78 22 74 21 62";
const WRIST_THUMB_OUT = "M30 86 C28 77 22 71 16 64 L5.5 50.5 A5.2 5.2 0 0 1 13.5 43.8 L21 52";
const WRIST_RIGHT = "C63 70 57 76 56 86";
const THUMB_FOLDED = "M21 57 L36 56 A4.8 4.8 0 0 1 37 65.5 L26 67";

/** Returns the top of one finger, from its left side to its right: a finger, or only its knuckle. */
function top({ left, right, knuckle, tip }: Finger, extended: boolean): string {
  const radius = (right - left) / 2;
  const y = extended ? tip + radius : knuckle;
  return `L${left} ${y} A${radius} ${radius} 0 0 1 ${right} ${y} L${right} ${knuckle + 1}`;
}

/** Returns the folded finger, lying on the palm. */
function fold({ left, right, knuckle }: Finger): string {
  const radius = (right - left) / 2 - 1;
  return `M${left + 1} ${knuckle + 2} V${knuckle + 9} A${radius} ${radius} 0 0 0 ${right - 1} ${knuckle + 9} V${knuckle + 2}`;
}

export function handPaths(fingers: readonly boolean[]): { outline: string; folds: string } {
  const [thumb = false, ...rest] = fingers;
  const tops = FINGERS.map((finger, i) => top(finger, rest[i] ?? false)).join(" ");
  const folds = FINGERS.filter((_, i) => !rest[i]).map(fold);
  if (!thumb) folds.push(THUMB_FOLDED);
  return { outline: `${thumb ? WRIST_THUMB_OUT : WRIST_LEFT} ${tops} L63 58 ${WRIST_RIGHT}`, folds: folds.join(" ") };
}

export function Hand({ fingers }: { fingers: readonly boolean[] }) {
  const { outline, folds } = handPaths(fingers);
  return (
    <svg class="hand" viewBox="0 0 68 88" aria-hidden="true">
      <path class="folds" d={folds} />
      <path class="outline" d={outline} />
    </svg>
  );
}
