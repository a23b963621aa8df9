/** The few words inside the picture, and where they go. */
import type { Limits, Point } from "../../api/types";
import { degrees } from "../units";
import type { Frame, Px } from "./frame";
import { placeLabels, type Box, type Placed, type Segment, type Wanted } from "./labels";
import { angleAt, corners } from "./curves";
import { RING } from "./Marks";
import type { Scene } from "./scene";

const square = ({ x, y }: Px, half: number): Box => ({ x: x - half, y: y - half, width: 2 * half, height: 2 * half });
const toward = (from: Px, to: Px): number => Math.atan2(to.y - from.y, to.x - from.x);

/** Returns the words placed; `room` is drawn around where somebody may go, and no word had better cross it. */
export function captions(frame: Frame, scene: Scene, room: Limits | null): Placed[] {
  const { call, passTarget, lane } = scene;
  const { sign } = frame;
  const px = (place: Point): Px => frame.at(place);
  const [landing, goal, start] = [px(call.target), px(passTarget), px(scene.setter)];
  const onArc = px(angleAt(call.target, call.contact, passTarget, scene.arc_m, scene.arc_m).middle);
  const wanted: Wanted[] = [
    { key: "angle", text: degrees(call.pass_angle_deg), size: 20 * sign, anchor: onArc, clear: 4, toward: toward(landing, onArc) },
    { key: "setter", text: "setter", size: 13 * sign, anchor: start, clear: 13 * sign, toward: toward(goal, start) },
    ...(lane ? [{ key: "lane", text: "stay off", size: 13 * sign, anchor: lane.cross, clear: 11, toward: 0 }] : []),
  ];
  return placeLabels(wanted, taken(px, sign, scene), [...lines(px, scene), ...edges(px, room)], { x: 2, y: 2, width: frame.width - 4, height: frame.height - 4 });
}

/** Returns what no word may cover. */
function taken(px: (place: Point) => Px, sign: number, { call, passTarget, setter, server, receivers, lane }: Scene): Box[] {
  return [
    ...receivers.map(({ place, role }) => square(px(place), (role === "passer" ? RING + 2 : 11) * sign)),
    square(px(setter), 12 * sign), square(px(passTarget), 8 * sign), square(px(server), 12 * sign), square(px(call.target), 7 * sign),
    ...(lane ? [square(lane.cross, 8)] : []),
  ];
}

/** Returns the lines that a word had better leave alone. */
function lines(px: (place: Point) => Px, { call, passTarget, setter, taker, lane }: Scene): Segment[] {
  const between = (from: Point, to: Point): Segment => ({ from: px(from), to: px(to) });
  const at = (x_m: number, y_m: number): Point => ({ x_m, y_m });
  return [
    between(call.contact, call.target), between(call.target, passTarget), between(setter, passTarget), between(taker, call.target),
    ...(lane ? [lane.line] : []),
    between(at(-5, 0), at(5, 0)), between(at(-4.5, -9), at(-4.5, 9)), between(at(4.5, -9), at(4.5, 9)), between(at(-4.5, 9), at(4.5, 9)),
  ];
}

function edges(px: (place: Point) => Px, room: Limits | null): Segment[] {
  if (!room) return [];
  const places = corners(room).map(px);
  return places.map((from, i) => ({ from, to: places[(i + 1) % places.length] as Px }));
}
