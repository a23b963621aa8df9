import type { Limits, Player, Point } from "../../api/types";
import { Grips, type Grip } from "../court/Grips";
import { planFrame, THEIR_HALF } from "../court/frame";
import { LimitBox } from "../court/LimitBox";
import { Lines } from "../court/Lines";
import { Receiver, Setter } from "../court/Marks";
import { useSize } from "../court/useSize";
import { within } from "../court/curves";
import type { Units } from "../units";
import { placeInWords } from "../words";

interface Props {
  passers: readonly Player[];
  setter: Point;
  passTarget: Point;
  service_line_m: number;
  units: Units;
  held: string | null;
  onHold: (label: string | null) => void;
  onMove: (label: string, to: Point) => void;
}

const HINT = "how-to-move-passers";

/** Returns her limits as far as the picture shows them. */
function inHalf(limits: Limits): Limits {
  const room = { x_min_m: -4.9, x_max_m: 4.9, y_min_m: 0.4, y_max_m: 9.4 };
  const low = within({ x_m: limits.x_min_m, y_m: limits.y_min_m }, room);
  const high = within({ x_m: limits.x_max_m, y_m: limits.y_max_m }, room);
  return { x_min_m: low.x_m, x_max_m: high.x_m, y_min_m: low.y_m, y_max_m: high.y_m };
}

/** Their half from above: the passers can be taken hold of. */
export function ReceptionPad({ passers, setter, passTarget, service_line_m, units, held, onHold, onMove }: Props) {
  const { ref, size } = useSize<SVGSVGElement>();
  const frame = size && planFrame(size.width, size.height, false, THEIR_HALF);
  const grips = passers.map(({ label, limits, ...place }): Grip => ({ key: label, name: `Passer ${label}`, place, limits: { ...limits, ...inHalf(limits) } }));
  const taken = grips.find(({ key }) => key === held);
  return (
    <div class="court-picture reception-pad">
      <svg ref={ref} role="group" aria-label="Their half: passers and setter">
        {frame && (
          <>
            {taken && <LimitBox frame={frame} limits={taken.limits} place={taken.place} />}
            <Lines frame={frame} service_line_m={service_line_m} />
            {passers.map((player) => <Receiver key={player.label} frame={frame} player={player} place={player} taking={false} />)}
            <Setter frame={frame} start={setter} passTarget={passTarget} />
            <Grips frame={frame} grips={grips} held={held} hint={HINT} onHold={onHold} onMove={onMove} inWords={(place) => placeInWords(place, units, service_line_m)} />
          </>
        )}
      </svg>
      <p id={HINT} class="unseen">Drag to move, or use the arrow keys; with Shift in larger steps.</p>
    </div>
  );
}
