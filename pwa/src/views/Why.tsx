import type { CallAnswer, Call } from "../api/types";
import { Bars } from "../parts/Bars";
import { Help } from "../parts/Help";
import { degrees, inUnits, length, of100, plain, signed, speed, type Units } from "../parts/units";
import { capital, spoken } from "../parts/words";

const SHOWN_FROM = 0.05; // points in 100; less would be written 0.0

/** Each part of the call's worth, then the numbers it rests on. */
export function Why({ answer, call, units }: { answer: CallAnswer; call: Call; units: Units }) {
  const gain = 100 * (call.keep - call.plain.keep);
  const all = call.reasons.map(({ name, points_per_100, text }) => ({ name, value: points_per_100, text: inUnits(text, units) }));
  const bars = all.filter(({ value }) => Math.abs(value) >= SHOWN_FROM);
  const nothing = all.filter(({ value }) => Math.abs(value) < SHOWN_FROM).map(({ name }) => name);
  return (
    <details class="why">
      <summary><h2>Why</h2> <span class="caption">{signed(gain)} in 100 against a plain serve</span></summary>
      <p>
        A plain serve ({spoken(call.plain.spot.name)} to zone {call.plain.target.zone} {call.plain.target.depth}) wins {of100(call.plain.keep)} of 100, this one {of100(call.keep)}.
        What makes the difference, in points in 100:
      </p>
      <Bars bars={bars} label="What each part is worth, in points in 100" />
      {nothing.length > 0 && <p class="caption">Next to nothing: {nothing.join(", ")}.</p>}
      <p class="sum"><span>together</span> <b>{signed(gain)}</b></p>
      <Numbers call={call} units={units} />
      <Basis answer={answer} />
      <Help terms={["points", "plainServe", "angle", "sight", "passLength", "run", "seam", "passer", "pace", "flight", "margin", "ace", "grade", "scatter", "assumed"]} />
    </details>
  );
}

function Numbers({ call, units }: { call: Call; units: Units }) {
  const rows: [string, string][] = [
    ["Pass angle", degrees(call.pass_angle_deg)],
    ["Sight", `${degrees(call.sight_angle_deg)}, ${spoken(call.sight_band)}`],
    ["Pass", length(call.pass_length_m, units.length)],
    ["Setter runs", length(call.setter_run_m, units.length)],
    ["Pace", speed(call.speed_m_s, units.speed)],
    ["Flight", `${plain(call.flight_time_s, 2)} s`],
    ["Over the net", length(call.net_margin_m, units.length)],
    ["Aces", `${of100(call.p_ace)} of 100`],
    ["Pass grade", `${plain(call.pass_grade)} of 3`],
  ];
  return (
    <dl class="numbers">
      {rows.map(([name, value]) => <div key={name}><dt>{name}</dt><dd>{value}</dd></div>)}
    </dl>
  );
}

/** What nobody has entered, and what the flight rests on. */
function Basis({ answer: { assumed, drag, policy } }: { answer: CallAnswer }) {
  return (
    <div class="basis">
      {assumed.length > 0 && <p><b>Assumed:</b> {assumed.map(({ text }) => text).join("; ")}.</p>}
      <p>{capital(policy.text)}</p>
      {drag.text && <p>{drag.text}</p>}
    </div>
  );
}
