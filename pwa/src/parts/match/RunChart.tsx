import { plain } from "../units";
import type { Course, CourseRally } from "../../api/match";

const STEP = 12;
const UP = 9;
const TOP = 16;
const BOTTOM = 34;

export interface Mark { readonly x: number; readonly y: number; readonly rally: CourseRally; readonly lead: number }

/** Returns one mark a rally: how far ahead we were after it, by the points before the next one and at the end. */
export function marksOf({ rallies, points }: Course): Mark[] {
  return rallies.map((rally, i) => {
    const after = rallies[i + 1]?.points_before ?? points;
    return { x: (i + 1) * STEP, y: 0, rally, lead: after.us - after.them };
  });
}

/** Returns where one of the two rotated: our setter stood elsewhere before. */
export const rotated = (rallies: readonly CourseRally[], i: number): boolean => i > 0 && rallies[i]?.rotations.us !== rallies[i - 1]?.rotations.us;

const sign = ({ ending, serving, winner }: CourseRally): "ace" | "missed" | "won" | "lost" =>
  serving === "us" ? (ending === "ace" ? "ace" : ending === "service_error" ? "missed" : winner === "us" ? "won" : "lost") : winner === "us" ? "won" : "lost";

/** The lead, rally by rally. Discs: rallies on our serve; rings on theirs; crosses: missed serves of ours. Ticks below: our rotations. */
export function RunChart({ course }: { course: Course }) {
  const marks = marksOf(course);
  const leads = marks.map(({ lead }) => lead);
  const [high, low] = [Math.max(2, ...leads), Math.min(-2, ...leads)];
  const height = TOP + (high - low) * UP + BOTTOM;
  const width = (marks.length + 2) * STEP;
  const y = (lead: number): number => TOP + (high - lead) * UP;
  const line = [`M0 ${y(0)}`, ...marks.map(({ x, lead }, i) => `L${x} ${y(i === 0 ? 0 : (marks[i - 1]?.lead ?? 0))} L${x} ${y(lead)}`)].join(" ");
  const title = `Set ${course.set_number}: ${course.points.us}–${course.points.them}`;
  return (
    <figure class="run-chart">
      <figcaption>{title} <span class="caption">lead {plain(low, 0)} to {plain(high, 0)}</span></figcaption>
      <div class="scroll" tabIndex={0} role="region" aria-label={`${title}, chart`}>
        <svg viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={`${title}. Our lead after each of ${marks.length} rallies, at most ${high}, at least ${low}.`}>
          <path class="level" d={`M0 ${y(0)} H${width}`} />
          <path class="lead" d={line} />
          {marks.map(({ x, lead, rally }, i) => (
            <g key={rally.rally_number}>
              {rotated(course.rallies, i) && <path class="turn" d={`M${x - STEP / 2} ${TOP - 8} V${height - BOTTOM + 8}`} />}
              {(i === 0 || rotated(course.rallies, i)) && <text x={x} y={height - 12} class="where">{rally.setter_positions.us ?? "·"}</text>}
              {sign(rally) === "missed" ? <path class="cross" d={`M${x - 3.5} ${y(lead) - 3.5} l7 7 m0 -7 l-7 7`} /> : <circle class={rally.serving === "us" ? "serve-dot" : "receive-dot"} cx={x} cy={y(lead)} r={sign(rally) === "ace" ? 5 : 3.4} />}
            </g>
          ))}
        </svg>
      </div>
      <p class="caption">Disc: our serve, large an ace; ring: theirs; cross: we missed. Below: where our setter is, at each of our rotations.</p>
    </figure>
  );
}
