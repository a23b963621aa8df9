/** One serve and what becomes of it: lines, angle, target, players. Drawn from the engine's numbers. */
import type { Call, Player, Point, StayOff } from "../../api/types";
import type { Frame } from "./frame";
import { angleAt, arrowHead, ellipsePlaces, pathOf, shortOf } from "./marks";

export const RING = 12;
const ARC = 38;

/** Returns the radius of the arc: as drawn, but never beyond the middle of the shorter line. [m] */
export function arcRadius_m(frame: Frame, call: Call, passTarget: Point): number {
  const toServer = Math.hypot(call.contact.x_m - call.target.x_m, call.contact.y_m - call.target.y_m);
  const toTarget = Math.hypot(passTarget.x_m - call.target.x_m, passTarget.y_m - call.target.y_m);
  return Math.min(ARC / frame.scale, 0.55 * toServer, 0.55 * toTarget);
}

export function Lane({ frame, lane }: { frame: Frame; lane: StayOff }) {
  const end = frame.at(lane.target);
  const stop = shortOf(frame.at(lane.contact), end, 8);
  const start = frame.at(lane.contact);
  return (
    <g class="lane" aria-hidden="true">
      <path d={`M${start.x} ${start.y} L${stop.x} ${stop.y}`} />
      <path class="cross" d={`M${end.x - 6} ${end.y - 6} l12 12 m0 -12 l-12 12`} />
    </g>
  );
}

export function ServeAndPass({ frame, call, passTarget }: { frame: Frame; call: Call; passTarget: Point }) {
  const [landing, goal, spot] = [frame.at(call.target), frame.at(passTarget), frame.at(call.spot)];
  const stop = shortOf(landing, goal, 9);
  const radius_m = arcRadius_m(frame, call, passTarget);
  const { arc } = angleAt(call.target, call.contact, passTarget, radius_m, radius_m);
  const hit = frame.at(call.contact);
  return (
    <g aria-hidden="true">
      <path class="ring-of-half" d={pathOf(frame, ellipsePlaces(call.scatter.ellipse), true)} />
      <path class="run-up" d={`M${spot.x} ${spot.y} L${hit.x} ${hit.y}`} />
      <path class="serve" d={pathOf(frame, [call.contact, call.target])} />
      <path class="pass" d={`M${landing.x} ${landing.y} L${stop.x} ${stop.y}`} />
      <path class="arc" d={pathOf(frame, arc)} />
      <circle class="landing" cx={landing.x} cy={landing.y} r="5.5" />
    </g>
  );
}

/** The setter, where she starts, and her way to where the pass should come. */
export function Setter({ frame, start, passTarget }: { frame: Frame; start: Point; passTarget: Point }) {
  const [from, goal] = [frame.at(start), frame.at(passTarget)];
  const tip = shortOf(from, goal, 9);
  const leave = shortOf(tip, from, 10);
  const runs = Math.hypot(goal.x - from.x, goal.y - from.y) > 26;
  return (
    <g aria-hidden="true">
      {runs && <path class="run" d={`M${leave.x} ${leave.y} L${tip.x} ${tip.y}`} />}
      {runs && <path class="head" d={arrowHead(from, tip, 9)} />}
      <circle class="pass-target" cx={goal.x} cy={goal.y} r="6" />
      <path class="setter" d={`M${from.x} ${from.y - 11} l11 11 l-11 11 l-11 -11 Z`} />
    </g>
  );
}

export function Receiver({ frame, player, place, taking }: { frame: Frame; player: Player; place: Point; taking: boolean }) {
  const { x, y } = frame.at(place);
  const kind = player.role === "passer" ? "passer" : "other";
  return (
    <g class={`receiver ${kind}${taking ? " taking" : ""}`} aria-hidden="true">
      <circle cx={x} cy={y} r={kind === "passer" ? RING : 9} />
      <text x={x} y={y} dy="0.36em">{player.label}</text>
    </g>
  );
}

/** The way the passer has to move, when it is longer than her ring. */
export function Move({ frame, from, call }: { frame: Frame; from: Point; call: Call }) {
  const [start, end] = [frame.at(from), frame.at(call.target)];
  if (Math.hypot(end.x - start.x, end.y - start.y) < RING + 10) return null;
  const leave = shortOf(end, start, RING + 1);
  const arrive = shortOf(start, end, 8);
  return <path class="move" aria-hidden="true" d={`M${leave.x} ${leave.y} L${arrive.x} ${arrive.y}`} />;
}

export function Server({ frame, place }: { frame: Frame; place: Point }) {
  const { x, y } = frame.at(place);
  return <circle class="server" cx={x} cy={y} r="11" aria-hidden="true" />;
}
