/** One serve and what becomes of it: lines, angle, target, players. Drawn from the engine's numbers. */
import type { Call, Player, Point } from "../../api/types";
import type { Frame, Px } from "./frame";
import type { Segment } from "./labels";
import { angleAt, arrowHead, ellipsePlaces, pathOf, shortOf } from "./curves";

export const RING = 12;
const ARC = 40;

const apart = (a: Px, b: Px): number => Math.hypot(a.x - b.x, a.y - b.y);
const line = (from: Px, to: Px): string => `M${from.x} ${from.y} L${to.x} ${to.y}`;

/** Returns the radius of the arc: outside the passer's ring, but never beyond the middle of the shorter line. [m] */
export function arcRadius_m(frame: Frame, call: Call, passTarget: Point, passer: Point): number {
  const px = (place: Point): number => apart(frame.at(call.target), frame.at(place));
  const clear = px(passer) < 60 * frame.sign ? px(passer) + (RING + 7) * frame.sign : 0;
  return Math.min(Math.max(ARC * frame.sign, clear), 0.6 * px(passTarget), 0.6 * px(call.contact)) / frame.scale;
}

export function Lane({ lane, cross }: { lane: Segment; cross: Px }) {
  return (
    <g class="lane" aria-hidden="true">
      <path d={line(lane.from, shortOf(lane.from, lane.to, RING))} />
      <path class="cross" d={`M${cross.x - 6} ${cross.y - 6} l12 12 m0 -12 l-12 12`} />
    </g>
  );
}

export function Serve({ frame, call }: { frame: Frame; call: Call }) {
  const landing = frame.at(call.target);
  return (
    <g aria-hidden="true">
      <path class="ring-of-half" d={pathOf(frame, ellipsePlaces(call.scatter.ellipse), true)} />
      <path class="run-up" d={pathOf(frame, [call.spot, call.contact])} />
      <path class="serve" d={pathOf(frame, [call.contact, call.target])} />
      <circle class="landing" cx={landing.x} cy={landing.y} r={5.5 * frame.sign} />
    </g>
  );
}

export function Pass({ frame, call, passTarget }: { frame: Frame; call: Call; passTarget: Point }) {
  const [landing, goal] = [frame.at(call.target), frame.at(passTarget)];
  return <path class="pass" aria-hidden="true" d={line(shortOf(goal, landing, 8), shortOf(landing, goal, 10))} />;
}

export function Arc({ frame, call, passTarget, radius_m }: { frame: Frame; call: Call; passTarget: Point; radius_m: number }) {
  const { arc } = angleAt(call.target, call.contact, passTarget, radius_m, radius_m);
  return <path class="arc" aria-hidden="true" d={pathOf(frame, arc)} />;
}

/** The setter, where she starts, and her way to where the pass should come. */
export function Setter({ frame, start, passTarget }: { frame: Frame; start: Point; passTarget: Point }) {
  const [from, goal] = [frame.at(start), frame.at(passTarget)];
  const tip = shortOf(from, goal, 10);
  const half = 11 * frame.sign;
  const runs = apart(from, goal) > half + 16;
  return (
    <g aria-hidden="true">
      {runs && <path class="run" d={line(shortOf(tip, from, half + 1), tip)} />}
      {runs && <path class="head" d={arrowHead(from, tip, 9)} />}
      <circle class="pass-target" cx={goal.x} cy={goal.y} r={6 * frame.sign} />
      <path class="setter" d={`M${from.x} ${from.y - half} l${half} ${half} l${-half} ${half} l${-half} ${-half} Z`} />
    </g>
  );
}

export function Receiver({ frame, player, place, taking }: { frame: Frame; player: Pick<Player, "role" | "label">; place: Point; taking: boolean }) {
  const { x, y } = frame.at(place);
  const kind = player.role === "passer" ? "passer" : "other";
  return (
    <g class={`receiver ${kind}${taking ? " taking" : ""}`} aria-hidden="true">
      <circle cx={x} cy={y} r={(kind === "passer" ? RING : 9) * frame.sign} />
      <text x={x} y={y} dy="0.36em" font-size={(kind === "passer" ? 14 : 12) * frame.sign}>{player.label}</text>
    </g>
  );
}

/** The way the passer has to move, when it is longer than her ring. */
export function Move({ frame, from, call }: { frame: Frame; from: Point; call: Call }) {
  const [start, end] = [frame.at(from), frame.at(call.target)];
  const ring = RING * frame.sign;
  if (apart(start, end) < ring + 12) return null;
  return <path class="move" aria-hidden="true" d={line(shortOf(end, start, ring), shortOf(start, end, 8 * frame.sign))} />;
}

export function Server({ frame, place }: { frame: Frame; place: Point }) {
  const { x, y } = frame.at(place);
  return <circle class="server" cx={x} cy={y} r={11 * frame.sign} aria-hidden="true" />;
}
