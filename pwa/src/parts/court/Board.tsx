/** The court as a learner sees it before a serve: players to tap, a place to serve to. */
import { useRef } from "preact/hooks";
import type { Player, Point, Position, Situation } from "../../api/types";
import type { Units } from "../units";
import { placeInWords } from "../words";
import { within } from "./curves";
import { type Plan, planFrame } from "./frame";
import { Grips } from "./Grips";
import { Lines } from "./Lines";
import { Receiver, Server, Setter } from "./Marks";
import { useSize } from "./useSize";

const THEIRS = { x_min_m: -4.5, x_max_m: 4.5, y_min_m: 0.3, y_max_m: 9 };
const TOUCH = 24;

interface BoardProps {
  situation: Situation;
  units: Units;
  /** Whose positions are shown; the others are rings without a number. */
  named: readonly Position[];
  /** The setter has been found: she is drawn as such, with her way. */
  found: boolean;
  server: Point | null;
  target: Point | null;
  onTap?: (position: Position) => void;
  onAim?: (place: Point) => void;
}

export function Board({ situation, units, named, found, server, target, onTap, onAim }: BoardProps) {
  const { ref, size } = useSize<SVGSVGElement>();
  const frame = size && planFrame(size.width, size.height, false);
  const aim = (event: PointerEvent): void => {
    const box = ref.current?.getBoundingClientRect();
    if (!frame || !box || !onAim || (event.target as Element).closest(".grip")) return;
    const place = frame.back({ x: event.clientX - box.left, y: event.clientY - box.top });
    if (place.y_m > 0) onAim(within(place, THEIRS));
  };
  return (
    <div class="court-picture plan">
      <svg ref={ref} role="group" aria-label={onAim ? "The court: tap where the ball should land" : "The court with their six players"} onPointerDown={aim}>
        {frame && <Lines frame={frame} service_line_m={situation.service_line_m} />}
        {frame && situation.players.map((player) => <Someone key={player.position} frame={frame} player={player} found={found} named={named} onTap={onTap} units={units} line_m={situation.service_line_m} />)}
        {frame && found && <Setter frame={frame} start={situation.setter_start} passTarget={situation.pass_target} />}
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

/** One of their six. Before the setter is found all look alike. */
function Someone({ frame, player, found, named, onTap, units, line_m }: SomeoneProps) {
  const tapped = useRef(onTap);
  tapped.current = onTap;
  const { position } = player;
  if (position === null || (found && player.role === "setter")) return null;
  const shown = found ? player : { ...player, role: "passer" as const };
  const label = found || named.includes(position) ? String(position) : "";
  const { x, y } = frame.at(player);
  const ring = <Receiver frame={frame} player={{ ...shown, label }} place={player} taking={named.includes(position) && !found} />;
  if (!onTap) return ring;
  const press = (event: KeyboardEvent): void => {
    if (event.key !== "Enter" && event.key !== " ") return;
    event.preventDefault();
    tapped.current?.(position);
  };
  return (
    <g role="button" tabindex={0} class="grip someone" data-position={position} aria-label={`Player ${placeInWords(player, units, line_m)}${label && `, position ${label}`}`} onClick={() => onTap(position)} onKeyDown={press}>
      {ring}
      <circle class="touch" cx={x} cy={y} r={TOUCH} />
      <circle class="focus" cx={x} cy={y} r="18" />
    </g>
  );
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
