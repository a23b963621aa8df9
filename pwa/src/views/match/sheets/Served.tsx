import { correct, log } from "../../../actions/match/log";
import { placeOf } from "../../../actions/match/taps";
import type { Parts, RallyRecord } from "../../../api/match";
import type { Point } from "../../../api/types";
import { SpotPicker } from "../../../parts/SpotPicker";
import { LandingPad } from "../../../parts/match/LandingPad";
import { Sheet } from "../../../parts/match/Sheet";
import type { SheetProps } from "../Sheets";

const near = (a: Point | null, b: Point): boolean => a !== null && Math.abs(a.x_m - b.x_m) < 0.3;

/** What was really served: from which spot, and where it landed. What was called is kept beside it. */
export function ServedSheet({ answer, serves, onOpen }: SheetProps) {
  const { state } = answer;
  const last = state.last_rallies.findLast(({ serving }) => serving === "us");
  const present = state.rally && state.serving === "us" ? state.rally : null;
  const record: RallyRecord | null = present ?? (state.serving === "us" ? null : (last ?? null));
  const at = { set_number: state.set_number, rally_number: record?.rally_number ?? placeOf(state).rally_number };
  const spots = serves.find(({ answer: there }) => there)?.answer?.situation.server.spots ?? [];
  const say = (parts: Parts, before: Point | null, said: string): void => {
    if (record && before) void correct(record, { parts }, said);
    else void log([{ type: "serve_noted", ...parts, at }], { said });
  };
  const from = record?.spot ?? record?.called?.spot ?? null;
  return (
    <Sheet title={record ? `Served at ${record.points_before.us}–${record.points_before.them}` : "This serve"} onClose={() => onOpen(null)}>
      <SpotPicker
        label="From" picked={[spots.find((s) => near(from, s))?.name ?? "middle"]}
        onPick={(name) => { const spot = spots.find((s) => s.name === name); if (spot) say({ spot: { x_m: spot.x_m, y_m: spot.y_m } }, record?.spot ?? null, "served from elsewhere"); }}
      />
      <LandingPad landing={record?.landing ?? null} called={record?.called?.target ?? null} onPick={(landing) => say({ landing }, record?.landing ?? null, "where it landed")} />
    </Sheet>
  );
}
