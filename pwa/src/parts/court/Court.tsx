/** The picture of one call, from above and to scale, or from behind the server. */
import type { Call, CallAnswer, Limits, Point } from "../../api/types";
import { inUnits, length, type Units } from "../units";
import { placeInWords } from "../words";
import { captions } from "./captions";
import { type Frame, planFrame, SHOWN, viewFrame } from "./frame";
import { type Grip, Grips } from "./Grips";
import { LimitBox } from "./LimitBox";
import { Lines } from "./Lines";
import { within } from "./curves";
import { Arc, Lane, Move, Pass, Receiver, Serve, Server, Setter } from "./Marks";
import { sceneOf } from "./scene";
import { useSize } from "./useSize";

export interface Moving {
  readonly grips: readonly Grip[];
  readonly held: string | null;
  readonly onHold: (key: string | null) => void;
  readonly onMove: (key: string, to: Point) => void;
}

interface CourtProps {
  answer: CallAnswer;
  call: Call;
  units: Units;
  turned?: boolean;
  moving?: Moving;
  /** Without the lane to stay off, and with no word but the angle: for small pictures. */
  plainly?: boolean;
}

/** Returns the picture in words. */
export function pictureInWords({ situation }: CallAnswer, call: Call, units: Units): string {
  const { semi_across_m, semi_along_m } = call.scatter.ellipse;
  const half = `half of the serves land within ${length(semi_across_m, units.length)} to either side and ${length(semi_along_m, units.length)} before or behind`;
  return (
    `The court with this call: ${call.words.call}, ${inUnits(call.words.place, units)}; ${half}. ` +
    `Pass angle ${Math.round(call.pass_angle_deg)} degrees, pass ${length(call.pass_length_m, units.length)} long. ` +
    `The setter starts ${placeInWords(situation.setter_start, units, situation.service_line_m)} and runs ${length(call.setter_run_m, units.length)}.`
  );
}

const HINT = "how-to-move";
const NO_GRIPS: readonly Grip[] = [];

/** From above, to scale; with `moving`, what can be moved can be taken hold of. */
export function Court({ answer, call, units, turned = false, moving, plainly = false }: CourtProps) {
  const { ref, size } = useSize<SVGSVGElement>();
  const frame = size && planFrame(size.width, size.height, turned);
  const grips = moving ? moving.grips.map((grip) => ({ ...grip, limits: { ...grip.limits, ...inPicture(grip.limits) } })) : NO_GRIPS;
  const held = grips.find(({ key }) => key === moving?.held);
  const letGo = (event: PointerEvent): void => {
    if (!(event.target as Element).closest(".grip")) moving?.onHold(null);
  };
  return (
    <div class="court-picture plan">
      <svg ref={ref} role={moving ? "group" : "img"} aria-label={pictureInWords(answer, call, units)} onPointerDown={letGo}>
        {frame && held && <LimitBox frame={frame} limits={held.limits} place={held.place} />}
        {frame && <Drawing frame={frame} answer={answer} call={call} grips={grips} plainly={plainly} room={held?.limits ?? null} />}
        {frame && moving && (
          <Grips
            frame={frame} grips={grips} held={moving.held} hint={HINT} onHold={moving.onHold} onMove={moving.onMove}
            inWords={(place) => placeInWords(place, units, answer.situation.service_line_m)}
          />
        )}
      </svg>
      {moving && <p id={HINT} class="unseen">Drag to move, or use the arrow keys; with Shift in larger steps.</p>}
    </div>
  );
}

/** As the server sees it: her line, her target, the passers; the pass as dots. */
export function ServersCourt({ answer, call, units }: Pick<CourtProps, "answer" | "call" | "units">) {
  const { ref, size } = useSize<SVGSVGElement>();
  const frame = size && viewFrame(size.width, size.height);
  const scene = frame && sceneOf(frame, answer, call, NO_GRIPS);
  return (
    <div class="court-picture view">
      <svg ref={ref} role="img" aria-label={pictureInWords(answer, call, units)}>
        {frame && scene && (
          <>
            <Lines frame={frame} service_line_m={answer.situation.service_line_m} />
            <Pass frame={frame} call={call} passTarget={scene.passTarget} />
            <Serve frame={frame} call={call} />
            {scene.receivers.filter(({ role }) => role === "passer").map((p) => <Receiver key={p.label} frame={frame} player={p} place={p.place} taking={p.taking} />)}
            <Setter frame={frame} start={scene.setter} passTarget={scene.passTarget} />
            <Server frame={frame} place={scene.server} />
          </>
        )}
      </svg>
    </div>
  );
}

/** Returns the limits as far as the picture shows them. */
function inPicture(limits: Limits): Limits {
  const inset = { x_min_m: SHOWN.x_min_m + 0.5, x_max_m: SHOWN.x_max_m - 0.5, y_min_m: SHOWN.y_min_m + 0.6, y_max_m: SHOWN.y_max_m - 0.5 };
  const low = within({ x_m: limits.x_min_m, y_m: limits.y_min_m }, inset);
  const high = within({ x_m: limits.x_max_m, y_m: limits.y_max_m }, inset);
  return { x_min_m: low.x_m, x_max_m: high.x_m, y_min_m: low.y_m, y_max_m: high.y_m };
}

interface DrawingProps {
  frame: Frame;
  answer: CallAnswer;
  call: Call;
  grips: readonly Grip[];
  plainly: boolean;
  /** Where the one who is held may go. Then those who do not pass are drawn too: they matter where overlap does. */
  room: Limits | null;
}

function Drawing({ frame, answer, call, grips, plainly, room }: DrawingProps) {
  const all = sceneOf(frame, answer, call, grips);
  const receivers = all.receivers.filter(({ role }) => role === "passer" || room);
  const scene = { ...all, receivers, lane: plainly ? null : all.lane };
  const of = (passes: boolean) => receivers.filter(({ role }) => (role === "passer") === passes)
    .map((p) => <Receiver key={p.label} frame={frame} player={p} place={p.place} taking={p.taking} />);
  const { passTarget } = scene;
  return (
    <>
      <Lines frame={frame} service_line_m={answer.situation.service_line_m} />
      {scene.lane && <Lane lane={scene.lane.line} cross={scene.lane.cross} />}
      <Move frame={frame} from={scene.taker} call={call} />
      <Pass frame={frame} call={call} passTarget={passTarget} />
      <Serve frame={frame} call={call} />
      {of(true)}
      <Arc frame={frame} call={call} passTarget={passTarget} radius_m={scene.arc_m} />
      <Setter frame={frame} start={scene.setter} passTarget={passTarget} />
      {of(false)}
      <Server frame={frame} place={scene.server} />
      <g class="captions" aria-hidden="true">
        {captions(frame, scene, room).filter(({ key }) => key === "angle" || !plainly).map(({ key, text, size, middle }) => (
          <text key={key} class={key} x={middle.x} y={middle.y} dy="0.36em" font-size={size}>{text}</text>
        ))}
      </g>
    </>
  );
}
