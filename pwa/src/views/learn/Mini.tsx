import type { CallAnswer, Position } from "../../api/types";
import { pathOf } from "../../parts/court/curves";
import { PLAN_SHAPE, planFrame } from "../../parts/court/frame";
import { Lines } from "../../parts/court/Lines";
import { Server, Setter } from "../../parts/court/Marks";

const WIDTH = 96;
const HEIGHT = WIDTH / PLAN_SHAPE;
const FRAME = planFrame(WIDTH, HEIGHT, false);

/** One rotation at a glance: where the setter starts, and the best serve. */
export function Mini({ position, answer: { situation, best } }: { position: Position; answer: CallAnswer }) {
  const landing = FRAME.at(best.target);
  return (
    <li class="court-picture">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`Setter in ${position}: ${best.words.call}`}>
        <Lines frame={FRAME} service_line_m={situation.service_line_m} />
        <path class="serve" d={pathOf(FRAME, [best.contact, best.target])} />
        <circle class="landing" cx={landing.x} cy={landing.y} r="4" />
        <Setter frame={FRAME} start={situation.setter_start} passTarget={situation.pass_target} />
        <Server frame={FRAME} place={best.spot} />
      </svg>
      <p class="caption" aria-hidden="true">Setter in {position}</p>
    </li>
  );
}
