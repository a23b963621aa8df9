/** The court as a learner sees it before a serve: players to tap, a place to serve to. */
import { useRef } from "preact/hooks";
import type { Player, Point, Position, Situation, SpotName } from "../../api/types";
import type { Units } from "../units";
import { placeInWords } from "../words";
import { pathOf, within } from "./curves";
import { Floor, numberOf } from "./Floor";
import { type Plan, planFrame, type Px } from "./frame";
import { Grips } from "./Grips";
import { Lines } from "./Lines";
import { Receiver, Server, Setter } from "./Marks";
import { stands } from "./stands";
import { useSize } from "./useSize";

const THEIRS = { x_min_m: -4.5, x_max_m: 4.5, y_min_m: 0.3, y_max_m: 9 };
const TOUCH = 24;
const STILL = 6; // chosen: a finger that moved further dragged, and did not tap [px]

interface BoardProps {
  situation: Situation;
  units: Units;
  /** Who was taken for the setter: their positions are shown, and where they have come from. */
  named: readonly Position[];
  /** The setter has been found: she is drawn as such, with her way. */
  found: boolean;
  /** The setter is pointed out. */
  shown: boolean;
  server: Point | null;
  target: Point | null;
  onTap?: (position: Position) => void;
  onStand?: (spot: SpotName) => void;
  onAim?: (place: Point) => void;
}

export function Board({ situation, units, named, found, shown, server, target, onTap, onStand, onAim }: BoardProps) {
  const { ref, size } = useSize<SVGSVGElement>();
  const frame = size && planFrame(size.width, size.height, false);
  const pressed = useRef<Px>({ x: 0, y: 0 });
  const setter = situation.players.find(({ role }) => role === "setter");
  const tap = ({ clientX: x, clientY: y }: MouseEvent): void => {
    const box = ref.current?.getBoundingClientRect();
    if (!frame || !box || Math.hypot(x - pressed.current.x, y - pressed.current.y) > STILL) return;
    const place = frame.back({ x: x - box.left, y: y - box.top });
    const [nearest] = stands(situation.server.spots).sort((a, b) => Math.abs(a.x_m - place.x_m) - Math.abs(b.x_m - place.x_m));
    if (place.y_m > 0) onAim?.(within(place, THEIRS));
    else if (nearest) onStand?.(nearest.name);
  };
  return (
    <div class="court-picture plan">
      <svg
        ref={ref} role="group" aria-label={onAim ? "The court: tap where the ball should land" : "The court with their six players"}
        onPointerDownCapture={({ clientX: x, clientY: y }) => (pressed.current = { x, y })} onClick={tap}
      >
        {frame && !found && <Floor frame={frame} setter={setter?.position ?? null} />}
        {frame && <Lines frame={frame} service_line_m={situation.service_line_m} />}
        {frame && onStand && stands(situation.server.spots).map((spot) => <Stand key={spot.name} frame={frame} place={spot} />)}
        {frame && server && target && <path class="run-up" aria-hidden="true" d={pathOf(frame, [server, target])} />}
        {frame && situation.players.map((player) => <Someone key={player.position} frame={frame} player={player} found={found} named={named} onTap={onTap} units={units} line_m={situation.service_line_m} />)}
        {frame && found && <Setter frame={frame} start={situation.setter_start} passTarget={situation.pass_target} />}
        {frame && !found && shown && setter && <Here frame={frame} place={setter} />}
        {frame && server && <Server frame={frame} place={server} />}
        {frame && target && <Target frame={frame} place={target} />}
        {frame && target && onAim && (
          <Grips
            frame={frame} grips={[{ key: "target", name: "Where the ball should land", place: target, limits: THEIRS }]} held={null} hint="how-to-aim"
            onHold={() => undefined} onMove={(_, to) => onAim(to)} inWords={(place) => placeInWords(place, units, situation.service_line_m)}
          />
        )}
      </svg>
      <p id="how-to-aim" class="unseen">Tap the court or drag; or use the arrow keys, with Shift in larger steps.</p>
    </div>
  );
}

interface SomeoneProps { frame: Plan; player: Player; found: boolean; named: readonly Position[]; units: Units; line_m: number; onTap: ((position: Position) => void) | undefined }

/** One of their six. Before the setter is found she looks like all who do not pass. */
function Someone({ frame, player, found, named, onTap, units, line_m }: SomeoneProps) {
  const tapped = useRef(onTap);
  tapped.current = onTap;
  const { position } = player;
  if (position === null || (found && player.role === "setter")) return null;
  const wrong = !found && named.includes(position);
  const label = found ? player.label : wrong ? String(position) : ""; // found: as in the picture of the serve
  const { x, y } = frame.at(player);
  const ring = <Receiver frame={frame} player={{ ...player, label }} place={player} taking={wrong} />;
  if (!onTap) return ring;
  const press = (event: KeyboardEvent): void => {
    if (event.key !== "Enter" && event.key !== " ") return;
    event.preventDefault();
    tapped.current?.(position);
  };
  const does = player.role === "passer" ? "Passer" : "Player who does not pass";
  return (
    <g role="button" tabindex={0} class="grip someone" data-position={position} aria-label={`${does} ${placeInWords(player, units, line_m)}${label && `, position ${label}`}`} onClick={() => onTap(position)} onKeyDown={press}>
      {wrong && <path class="run" d={pathOf(frame, [numberOf(position), player])} />}
      {ring}
      <circle class="touch" cx={x} cy={y} r={TOUCH} />
      <circle class="focus" cx={x} cy={y} r="18" />
    </g>
  );
}

function Here({ frame, place }: { frame: Plan; place: Point }) {
  const { x, y } = frame.at(place);
  return <circle class="here-she-is" cx={x} cy={y} r={19 * frame.sign} aria-hidden="true" />;
}

/** A place to serve from, not taken. */
function Stand({ frame, place }: { frame: Plan; place: Point }) {
  const { x, y } = frame.at(place);
  return <circle class="stand" cx={x} cy={y} r={7 * frame.sign} aria-hidden="true" />;
}

function Target({ frame, place }: { frame: Plan; place: Point }) {
  const { x, y } = frame.at(place);
  return (
    <g class="aimed" aria-hidden="true">
      <circle cx={x} cy={y} r={5.5 * frame.sign} />
      <circle class="ring" cx={x} cy={y} r={15 * frame.sign} />
    </g>
  );
}
