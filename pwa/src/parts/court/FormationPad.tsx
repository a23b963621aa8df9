/** Their half from above with all six: everyone can be taken hold of; a pair out of order is joined by a line. */
import type { Breach, FormationPlayer } from "../../api/opponents";
import type { Limits, Point, Position } from "../../api/types";
import type { Units } from "../units";
import { placeInWords } from "../words";
import { pathOf, within } from "./curves";
import { planFrame, THEIR_HALF, type Plan } from "./frame";
import { Grips, type Grip } from "./Grips";
import { LimitBox } from "./LimitBox";
import { Lines } from "./Lines";
import { Receiver } from "./Marks";
import { useSize } from "./useSize";

export type Placed = Pick<FormationPlayer, "position" | "x_m" | "y_m" | "passes">;

interface Props {
  six: readonly Placed[];
  /** Who sets in this rotation. */
  setting: Position;
  breaches: readonly Breach[];
  /** The room of the one who is held, while everyone is in order. */
  room: Limits | null;
  units: Units;
  held: Position | null;
  onHold: (position: Position | null) => void;
  onMove: (position: Position, to: Point) => void;
}

const COURT: Limits = { x_min_m: -4.5, x_max_m: 4.5, y_min_m: 0.3, y_max_m: 9 }; // lines included (FIVB 7.4), clear of the net
const SERVICE_LINE_M = 9;
const HINT = "how-to-place";

const roleOf = ({ position, passes }: Placed, setting: Position): "setter" | "passer" | "other" => (position === setting ? "setter" : passes ? "passer" : "other");
const NAMES = { setter: "Their setter, in", passer: "Passer in", other: "Player in" } as const;

export function FormationPad({ six, setting, breaches, room, units, held, onHold, onMove }: Props) {
  const { ref, size } = useSize<SVGSVGElement>();
  const frame = size && planFrame(size.width, size.height, false, THEIR_HALF);
  const grips = six.map((one): Grip => ({ key: String(one.position), name: `${NAMES[roleOf(one, setting)]} ${one.position}`, place: one, limits: COURT }));
  const taken = six.find(({ position }) => position === held);
  return (
    <div class="court-picture formation-pad">
      <svg ref={ref} role="group" aria-label="Their half: six players to move">
        {frame && (
          <>
            <Lines frame={frame} service_line_m={SERVICE_LINE_M} />
            {taken && room && <LimitBox frame={frame} limits={{ ...room, ...low(room), ...high(room) }} place={taken} />}
            {breaches.map(({ positions }) => <Broken key={positions.join()} frame={frame} pair={six.filter(({ position }) => positions.includes(position))} />)}
            {six.map((one) => <Someone key={one.position} frame={frame} one={one} setting={setting} />)}
            <Grips
              frame={frame} grips={grips} held={held === null ? null : String(held)} hint={HINT}
              onHold={(key) => onHold(key === null ? null : (Number(key) as Position))} onMove={(key, to) => onMove(Number(key) as Position, to)}
              inWords={(place) => placeInWords(place, units, SERVICE_LINE_M)}
            />
          </>
        )}
      </svg>
      <p id={HINT} class="unseen">Drag to move, or use the arrow keys; with Shift in larger steps.</p>
    </div>
  );
}

function low({ x_min_m, y_min_m }: Limits): Pick<Limits, "x_min_m" | "y_min_m"> {
  const place = within({ x_m: x_min_m, y_m: y_min_m }, COURT);
  return { x_min_m: place.x_m, y_min_m: place.y_m };
}

function high({ x_max_m, y_max_m }: Limits): Pick<Limits, "x_max_m" | "y_max_m"> {
  const place = within({ x_m: x_max_m, y_m: y_max_m }, COURT);
  return { x_max_m: place.x_m, y_max_m: place.y_m };
}

const DIAMOND = 14;

function Someone({ frame, one, setting }: { frame: Plan; one: Placed; setting: Position }) {
  const role = roleOf(one, setting);
  if (role !== "setter") return <Receiver frame={frame} player={{ role, label: String(one.position) }} place={one} taking={false} />;
  const { x, y } = frame.at(one);
  const half = DIAMOND * frame.sign;
  return (
    <g class="setter-named" aria-hidden="true">
      <path class="setter" d={`M${x} ${y - half} l${half} ${half} l${-half} ${half} l${-half} ${-half} Z`} />
      <text x={x} y={y} dy="0.36em" font-size={13 * frame.sign}>{one.position}</text>
    </g>
  );
}

/** The two who are out of order, joined; a mark in the middle says so without colour. */
function Broken({ frame, pair }: { frame: Plan; pair: readonly Placed[] }) {
  const [one, other] = pair;
  if (!one || !other) return null;
  const middle = frame.at({ x_m: (one.x_m + other.x_m) / 2, y_m: (one.y_m + other.y_m) / 2 });
  return (
    <g class="broken" aria-hidden="true" data-pair={`${one.position}-${other.position}`}>
      <path d={pathOf(frame, [one, other])} />
      {pair.map((player) => <circle key={player.position} cx={frame.at(player).x} cy={frame.at(player).y} r={18 * frame.sign} />)}
      <path class="cross" d={`M${middle.x - 7} ${middle.y - 7} l14 14 m0 -14 l-14 14`} />
    </g>
  );
}
