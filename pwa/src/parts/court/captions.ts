/** The few words inside the picture, and where they go. */
import type { Call, Player, Point, StayOff } from "../../api/types";
import { degrees } from "../units";
import type { Frame, Px } from "./frame";
import { placeLabels, type Box, type Placed, type Segment, type Wanted } from "./labels";
import { angleAt } from "./marks";
import { arcRadius_m, RING } from "./Marks";

export interface Scene {
  readonly call: Call;
  readonly passTarget: Point;
  readonly setter: Point;
  readonly server: Point;
  readonly players: readonly (Player & { readonly place: Point })[];
  readonly lane: StayOff | null;
}

const square = ({ x, y }: Px, half: number): Box => ({ x: x - half, y: y - half, width: 2 * half, height: 2 * half });
const toward = (from: Px, to: Px): number => Math.atan2(to.y - from.y, to.x - from.x);

export function captions(frame: Frame, scene: Scene): Placed[] {
  const { call, passTarget, setter, lane } = scene;
  const px = (place: Point): Px => frame.at(place);
  const [landing, goal, start] = [px(call.target), px(passTarget), px(setter)];
  const radius_m = arcRadius_m(frame, call, passTarget);
  const bisector = px(angleAt(call.target, call.contact, passTarget, radius_m, radius_m).middle);
  const wanted: Wanted[] = [
    { key: "angle", text: degrees(call.pass_angle_deg), size: 20, anchor: bisector, clear: 4, toward: toward(landing, bisector) },
    { key: "setter", text: "setter", size: 13, anchor: start, clear: 13, toward: toward(goal, start) },
    ...(lane ? [{ key: "lane", text: "stay off", size: 13, anchor: px(lane.target), clear: 9, toward: -Math.PI / 2 }] : []),
  ];
  const taken = [
    ...scene.players.filter(({ role }) => role !== "setter").map(({ place, role }) => square(px(place), role === "passer" ? RING + 2 : 11)),
    square(start, 12), square(goal, 8), square(px(scene.server), 12), square(landing, 7),
    ...(lane ? [square(px(lane.target), 8)] : []),
  ];
  const lines: Segment[] = [
    { from: px(call.contact), to: landing }, { from: landing, to: goal }, { from: start, to: goal },
    ...(lane ? [{ from: px(lane.contact), to: px(lane.target) }] : []),
    { from: px({ x_m: -5, y_m: 0 }), to: px({ x_m: 5, y_m: 0 }) },
    { from: px({ x_m: -4.5, y_m: -9 }), to: px({ x_m: -4.5, y_m: 9 }) }, { from: px({ x_m: 4.5, y_m: -9 }), to: px({ x_m: 4.5, y_m: 9 }) },
    { from: px({ x_m: -4.5, y_m: 9 }), to: px({ x_m: 4.5, y_m: 9 }) },
  ];
  return placeLabels(wanted, taken, lines, { x: 2, y: 2, width: frame.width - 4, height: frame.height - 4 });
}
