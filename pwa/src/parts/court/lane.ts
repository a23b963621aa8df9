/** Where on the lane to stay off its cross goes: in the open, nearer to us than to them. */
import type { Px } from "./frame";
import type { Segment } from "./labels";

/** Returns the distance from a place to a segment. [px] */
export function distanceTo({ x, y }: Px, { from, to }: Segment): number {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const along = dx * dx + dy * dy;
  const part = along === 0 ? 0 : Math.min(1, Math.max(0, ((x - from.x) * dx + (y - from.y) * dy) / along));
  return Math.hypot(x - from.x - part * dx, y - from.y - part * dy);
}

const PARTS = [0.3, 0.36, 0.24, 0.42, 0.18, 0.56, 0.62, 0.68];
const ROOM = 26; // px

export function crossOn(lane: Segment, others: readonly Segment[]): Px {
  const at = (part: number): Px => ({ x: lane.from.x + part * (lane.to.x - lane.from.x), y: lane.from.y + part * (lane.to.y - lane.from.y) });
  const room = (place: Px): number => Math.min(...others.map((other) => distanceTo(place, other)));
  const places = PARTS.map(at);
  return places.find((place) => room(place) >= ROOM) ?? places.reduce((a, b) => (room(b) > room(a) ? b : a));
}
