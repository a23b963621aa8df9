/** What one picture shows, and where: the engine's numbers, with what is being moved at the finger. */
import type { Call, CallAnswer, Player, Point } from "../../api/types";
import type { Frame, Px } from "./frame";
import type { Grip } from "./Grips";
import { crossOn } from "./lane";
import type { Segment } from "./labels";
import { arcRadius_m } from "./Marks";

export interface Scene {
  readonly call: Call;
  readonly passTarget: Point;
  readonly setter: Point;
  readonly server: Point;
  readonly receivers: readonly (Player & { readonly place: Point; readonly taking: boolean })[];
  readonly taker: Point;
  readonly arc_m: number;
  readonly lane: { readonly line: Segment; readonly cross: Px } | null;
}

export function sceneOf(frame: Frame, { situation, stay_off }: CallAnswer, call: Call, grips: readonly Grip[]): Scene {
  const where = (key: string, otherwise: Point): Point => grips.find((grip) => grip.key === key)?.place ?? otherwise;
  const passTarget = where("target", situation.pass_target);
  const receivers = situation.players.filter(({ role }) => role !== "setter").map((player) => ({
    ...player,
    place: where(`passer-${player.position ?? player.label}`, player),
    taking: player.role === "passer" && player.position === call.passer.position,
  }));
  const taker = receivers.find(({ taking }) => taking)?.place ?? call.passer;
  const off = stay_off[0];
  const segment = (from: Point, to: Point): Segment => ({ from: frame.at(from), to: frame.at(to) });
  const line = off && segment(off.contact, off.target);
  return {
    call, passTarget, receivers, taker,
    setter: where("setter", situation.setter_start),
    server: where("server", call.spot),
    arc_m: arcRadius_m(frame, call, passTarget, taker),
    lane: line ? { line, cross: crossOn(line, [segment(call.contact, call.target), segment(call.target, passTarget)]) } : null,
  };
}
