import { log } from "../../../actions/match/log";
import { kindOf } from "../../../actions/match/calls";
import { bench, numbersOf } from "../../../actions/match/numbers";
import { preferKind } from "../../../actions/match/prefs";
import { state as start } from "../../../actions/state";
import { called, playerOf } from "../../../actions/team/roster";
import { useStore } from "../../../store/store";
import type { Kind } from "../../../api/types";
import { NumberChoice } from "../../../parts/match/Numbers";
import { Sheet } from "../../../parts/match/Sheet";
import { capital, spoken } from "../../../parts/words";
import type { SheetProps } from "../Sheets";

/** Who is seen serving; for a server of ours, how she serves. */
export function ServerSheet({ now, answer, liked, serves, onOpen }: SheetProps) {
  const { stock } = useStore(start);
  const { state } = answer;
  const side = state.serving;
  if (side === null) return null;
  const number = side === "us" ? (state.server?.number ?? null) : (serves[0]?.coming.server.number ?? null);
  const level = stock?.levels.find((l) => l.level === (state.level ?? stock.start_level));
  const own = playerOf(state.teams.us, number)?.serves.map((s) => s.kind) ?? [];
  const kinds = [...new Set([...own, ...(level?.servers ?? []).map((s) => s.kind)])];
  const court = state.sides[side].lineup.flatMap((c) => c.number ?? []);
  return (
    <Sheet title={side === "us" ? "Our server" : "Their server"} onClose={() => onOpen(null)}>
      <NumberChoice
        label="Who is seen serving" numbers={[...court, ...bench(now.rows, side, state.sides[side], side === "us" ? numbersOf(state.teams.us) : [])]}
        onPick={(seen) => { onOpen(null); void log([{ type: "server_seen", side, number: seen }], { said: "" }); }}
      />
      {number !== null && kinds.length > 0 && (
        <label class="field">How {called(state.teams.us, number)} of ours serves
          <select value={kindOf(number, state.level, liked, state.teams.us) ?? ""} onChange={(event) => preferKind(number, (event.currentTarget.value || null) as Kind | null)}>
            {own.length > 1 && <option value="">Best of her {own.length} serves</option>}
            {kinds.map((kind) => <option key={kind} value={kind}>{capital(spoken(kind))}</option>)}
          </select>
        </label>
      )}
    </Sheet>
  );
}
