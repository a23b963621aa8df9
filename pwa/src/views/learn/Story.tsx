/** Who is who, in one picture: what happens to a serve. Only a drawing: the numbers come with the rotations. */
import type { Point } from "../../api/types";
import { pathOf } from "../../parts/court/curves";
import { planFrame, type Plan } from "../../parts/court/frame";
import { Lines } from "../../parts/court/Lines";
import { Receiver, Server, Setter } from "../../parts/court/Marks";

const WIDTH = 330;
const HEIGHT = 372;
const COURT = 196;
const at = (x_m: number, y_m: number): Point => ({ x_m, y_m });
const PASSERS = [at(-2.9, 6.3), at(0, 6.7), at(2.9, 6.3)]; // as three usually stand
const [FROM, LANDS, RING, SETTER] = [at(4.4, -9.2), at(2.1, 6.5), at(-1, 1), at(-3.2, 4.5)];

/** Beside the picture: where its line begins, and what it says. */
const SAID: readonly { readonly to: Point; readonly lines: readonly string[]; readonly strong: string }[] = [
  { to: at(3.5, 6.4), strong: "2 A passer", lines: ["plays the ball to"] },
  { to: at(-0.4, 1.5), strong: "3 the setter,", lines: ["who runs to the", "empty ring."] },
  { to: at(4.9, -9.2), strong: "1 You serve.", lines: [] },
];

export function Story() {
  const frame = planFrame(COURT, HEIGHT, false);
  const line = (from: Point, to: Point): string => pathOf(frame, [from, to]);
  return (
    <figure class="court-picture story">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label="You serve from behind your end line, at the bottom. Across the net a passer plays the ball to the setter, who runs to the net.">
        <Lines frame={frame} service_line_m={9} />
        <path class="pass" d={line(LANDS, RING)} />
        <path class="serve" d={line(FROM, LANDS)} />
        {PASSERS.map((place) => <Receiver key={place.x_m} frame={frame} player={{ role: "passer", label: "" }} place={place} taking={place.x_m > 1} />)}
        <Setter frame={frame} start={SETTER} passTarget={RING} />
        <Server frame={frame} place={FROM} />
        <Word frame={frame} place={at(0, 8.2)}>their side</Word>
        <Word frame={frame} place={at(-3.5, -0.8)}>net</Word>
        <Word frame={frame} place={at(0, -6)}>our side</Word>
        {SAID.map(({ to, strong, lines }) => <Said key={strong} frame={frame} to={to} strong={strong} lines={lines} />)}
      </svg>
    </figure>
  );
}

function Word({ frame, place, children }: { frame: Plan; place: Point; children: string }) {
  const { x, y } = frame.at(place);
  return <text class="side" x={x} y={y} dy="0.36em" font-size="13">{children}</text>;
}

function Said({ frame, to, strong, lines }: { frame: Plan; to: Point; strong: string; lines: readonly string[] }) {
  const { x, y } = frame.at(to);
  return (
    <>
      <path class="leader" d={`M${x} ${y} H${COURT + 6}`} />
      {[strong, ...lines].map((text, i) => <text key={text} class={text === strong ? "said strong" : "said"} x={COURT + 10} y={y} dy={`${0.36 + i * 1.35}em`} font-size="15">{text}</text>)}
    </>
  );
}
