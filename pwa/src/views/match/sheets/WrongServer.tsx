import { useState } from "preact/hooks";
import { log } from "../../../actions/match/log";
import { SIDES, type Side } from "../../../api/match";
import { NumberChoice } from "../../../parts/match/Numbers";
import { Sheet } from "../../../parts/match/Sheet";
import type { SheetProps } from "../Sheets";

/** The referee has found a wrong server: whose, when, and who should have served. */
export function WrongServerSheet({ answer, onOpen }: SheetProps) {
  const { state } = answer;
  const [side, setSide] = useState<Side>(state.serving ?? "them");
  const [found, setFound] = useState<"at_service" | "after_rally">("at_service");
  const [from, setFrom] = useState<number | null>(null);
  const own = state.last_rallies.filter(({ serving, winner }) => serving === side && winner !== null);
  const say = (right_server?: number): void => {
    onOpen(null);
    void log([{ type: "wrong_server_called", side, found, ...(from !== null && { from_rally: from }), ...(right_server !== undefined && { right_server }) }], { said: "" });
  };
  return (
    <Sheet title="Wrong server" onClose={() => onOpen(null)}>
      <div class="row two" role="group" aria-label="Whose">
        {SIDES.map((s) => <button key={s} type="button" aria-pressed={side === s} onClick={() => setSide(s)}>{s === "us" ? "Ours" : "Theirs"}</button>)}
      </div>
      <div class="row two" role="group" aria-label="Found">
        <button type="button" class="light" aria-pressed={found === "at_service"} onClick={() => setFound("at_service")}>at this service</button>
        <button type="button" class="light" aria-pressed={found === "after_rally"} onClick={() => setFound("after_rally")}>after the rally</button>
      </div>
      {own.length > 0 && (
        <label class="field">First rally served by the wrong player
          <select value={from ?? ""} onChange={(event) => setFrom(event.currentTarget.value === "" ? null : Number(event.currentTarget.value))}>
            <option value="">not known</option>
            {own.map((r) => <option key={r.rally_number} value={r.rally_number}>at {r.points_before.us}–{r.points_before.them}</option>)}
          </select>
        </label>
      )}
      <NumberChoice label="Who should have served" numbers={state.sides[side].lineup.flatMap((c) => c.number ?? [])} onPick={say} />
      <button type="button" class="strong" onClick={() => say()}>As the log had it</button>
    </Sheet>
  );
}
