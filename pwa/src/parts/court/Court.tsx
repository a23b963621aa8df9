/** The picture of one call, from above and to scale, or from behind the server. */
import type { Call, CallAnswer, Limits, Point } from "../../api/types";
import { type Units, inUnits, length } from "../units";
import { placeInWords } from "../words";
import { captions } from "./captions";
import { type Frame, planFrame, viewFrame } from "./frame";
import { type Grip, Grips } from "./Grips";
import { LimitBox } from "./LimitBox";
import { Lines } from "./Lines";
import { within } from "./marks";
import { Lane, Move, Receiver, Server, ServeAndPass, Setter } from "./Marks";
import { useSize } from "./useSize";

export interface Moving {
  readonly grips: readonly Grip[];
  readonly held: string | null;
  readonly onHold: (key: string | null) => void;
  readonly onMove: (key: string, to: Point) => void;
}

export interface CourtProps {
  answer: CallAnswer;
  call: Call;
  units: Units;
  /** From above ("plan"), or as the server sees it ("view"). */
  as: "plan" | "view";
  turned?: boolean;
  moving?: Moving;
  lane?: boolean;
}

/** Returns the picture in words. */
export function pictureInWords({ situation }: CallAnswer, call: Call, units: Units): string {
  const { ellipse } = call.scatter;
  const half = `half of the serves land within ${length(ellipse.semi_across_m, units.length)} to either side and ${length(ellipse.semi_along_m, units.length)} before or behind`;
  return (
    `Court from above. ${call.words.call}, ${inUnits(call.words.place, units)}; ${half}. ` +
    `Pass angle ${Math.round(call.pass_angle_deg)} degrees, pass ${length(call.pass_length_m, units.length)} long. ` +
    `The setter starts ${placeInWords(situation.setter_start, units)} and runs ${length(call.setter_run_m, units.length)}.`
  );
}

const clipped = (limits: Limits, shown: Limits): Limits => {
  const inset = { x_min_m: shown.x_min_m + 0.5, x_max_m: shown.x_max_m - 0.5, y_min_m: shown.y_min_m + 0.6, y_max_m: shown.y_max_m - 0.5 };
  const low = within({ x_m: limits.x_min_m, y_m: limits.y_min_m }, inset);
  const high = within({ x_m: limits.x_max_m, y_m: limits.y_max_m }, inset);
  return { x_min_m: low.x_m, x_max_m: high.x_m, y_min_m: low.y_m, y_max_m: high.y_m };
};

const NO_GRIPS: readonly Grip[] = [];
const HINT = "how-to-move";

export function Court({ answer, call, units, as, turned = false, moving, lane = true }: CourtProps) {
  const { ref, size } = useSize<SVGSVGElement>();
  const plan = size && as === "plan" ? planFrame(size.width, size.height, turned) : null;
  const frame: Frame | null = plan ?? (size && viewFrame(size.width, size.height));
  return (
    <div class={`court-picture ${as}`}>
      <svg
        ref={ref} role={moving ? "group" : "img"} aria-label={pictureInWords(answer, call, units)}
        {...(size && { viewBox: `0 0 ${size.width} ${size.height}` })}
      >
        {frame && <Drawing frame={frame} answer={answer} call={call} grips={moving?.grips ?? NO_GRIPS} lane={lane} />}
        {plan && moving && (
          <Held frame={plan} moving={moving} units={units} />
        )}
      </svg>
      {moving && <p id={HINT} class="unseen">Drag to move, or use the arrow keys; with Shift in larger steps.</p>}
    </div>
  );
}

function Held({ frame, moving, units }: { frame: ReturnType<typeof planFrame>; moving: Moving; units: Units }) {
  const grips = moving.grips.map((grip) => ({ ...grip, limits: clipped(grip.limits, frame.shown) }));
  const held = grips.find(({ key }) => key === moving.held);
  return (
    <>
      {held && <LimitBox frame={frame} limits={held.limits} place={held.place} />}
      <Grips frame={frame} grips={grips} held={moving.held} units={units} hint={HINT} onHold={moving.onHold} onMove={moving.onMove} />
    </>
  );
}

function Drawing({ frame, answer, call, grips, lane }: { frame: Frame; answer: CallAnswer; call: Call; grips: readonly Grip[]; lane: boolean }) {
  const { situation, stay_off } = answer;
  const where = (key: string, else_: Point): Point => grips.find((grip) => grip.key === key)?.place ?? else_;
  const passTarget = where("target", situation.pass_target);
  const setter = where("setter", situation.setter_start);
  const server = where("server", call.spot);
  const players = situation.players.map((player) => ({
    ...player, place: player.role === "setter" ? setter : where(`passer-${player.position ?? player.label}`, player),
  }));
  const receivers = players.filter(({ role }) => role !== "setter");
  const off = lane ? (stay_off[0] ?? null) : null;
  const taking = (position: unknown): boolean => position === call.passer.position;
  const taker = receivers.find(({ position }) => taking(position));
  return (
    <>
      <Lines frame={frame} />
      {off && <Lane frame={frame} lane={off} />}
      {taker && <Move frame={frame} from={taker.place} call={call} />}
      <ServeAndPass frame={frame} call={call} passTarget={passTarget} />
      {receivers.map((player) => <Receiver key={player.label} frame={frame} player={player} place={player.place} taking={taking(player.position)} />)}
      <Setter frame={frame} start={setter} passTarget={passTarget} />
      <Server frame={frame} place={server} />
      <g class="captions" aria-hidden="true">
        {captions(frame, { call, passTarget, setter, server, players, lane: off }).map(({ key, text, size, middle }) => (
          <text key={key} class={key} x={middle.x} y={middle.y} dy="0.36em" font-size={size}>{text}</text>
        ))}
      </g>
    </>
  );
}
