import type { Point } from "../../api/types";

/** Their half with half a metre around it, 1 m to 20 units, the net at the bottom. */
const SCALE = 20;
const OUT_M = 1;
const WIDTH = (9 + 2 * OUT_M) * SCALE;
const HEIGHT = (9 + OUT_M) * SCALE + 6;

const px = ({ x_m, y_m }: Point): { cx: number; cy: number } => ({ cx: (x_m + 4.5 + OUT_M) * SCALE, cy: HEIGHT - 6 - y_m * SCALE });
const tenth = (value: number): number => Math.round(value * 10) / 10;

/** Returns the place on the floor of a tap, from its share of the picture's width and height. [m] */
export const tapped = (across: number, down: number): Point => ({
  x_m: tenth((across * WIDTH) / SCALE - 4.5 - OUT_M), y_m: Math.max(0, tenth((HEIGHT - 6 - down * HEIGHT) / SCALE)),
});

/** Tap where the ball landed. The open ring is what was called. */
export function LandingPad({ landing, called, onPick }: { landing: Point | null; called: Point | null; onPick: (landing: Point) => void }) {
  const tap = (event: MouseEvent): void => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    if (event.detail === 0) return; // by keyboard there is no place: the zones below are for that
    onPick(tapped((event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height));
  };
  return (
    <div class="landing-pad">
      <p class="caption">Landed</p>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label="Their half: tap where the ball landed" onClick={tap}>
        <rect class="court" x={OUT_M * SCALE} y={OUT_M * SCALE} width={9 * SCALE} height={9 * SCALE} />
        <path class="thin" d={`M${OUT_M * SCALE} ${HEIGHT - 6 - 3 * SCALE} h${9 * SCALE}`} />
        <path class="net" d={`M8 ${HEIGHT - 6} H${WIDTH - 8}`} />
        {called && <circle class="called" r="8" {...px(called)} />}
        {landing && <circle class="landed" r="6" {...px(landing)} />}
      </svg>
      <div class="row three" role="group" aria-label="Landed in zone">
        {([1, 6, 5, 2, 3, 4] as const).map((zone) => (
          <button key={zone} type="button" class="light" onClick={() => onPick(MIDDLE[zone])}>zone {zone}</button>
        ))}
      </div>
    </div>
  );
}

/** The middle of each zone, from our side of the net. [m] */
const MIDDLE: Readonly<Record<1 | 2 | 3 | 4 | 5 | 6, Point>> = {
  1: { x_m: -3, y_m: 6.5 }, 6: { x_m: 0, y_m: 6.5 }, 5: { x_m: 3, y_m: 6.5 }, 2: { x_m: -3, y_m: 2 }, 3: { x_m: 0, y_m: 2 }, 4: { x_m: 3, y_m: 2 },
};
