import { log } from "../../../actions/match/log";
import { reviewPath, sharePath } from "../../../actions/route";
import type { EventBody, Side } from "../../../api/match";
import { Sheet } from "../../../parts/match/Sheet";
import { Link } from "../../Link";
import { notes } from "../noted";
import type { SheetProps } from "../Sheets";

/** Everything that is not needed in every rally. */
export function MoreSheet({ now, answer, onOpen }: SheetProps) {
  const { sides, side_change_due } = answer.state;
  const act = (body: EventBody): void => {
    onOpen(null);
    void log([body], { said: "" });
  };
  const timeOut = (side: Side): void => {
    void log([{ type: "time_out_taken", side }], { said: "" });
    onOpen("time-out");
  };
  const left = (side: Side): string => `${sides[side].time_outs_left} left`;
  return (
    <Sheet title="More" onClose={() => onOpen(null)}>
      <div class="choices-grid">
        <button type="button" onClick={() => timeOut("us")}>Our time-out<span class="caption">{left("us")}</span></button>
        <button type="button" onClick={() => timeOut("them")}>Their time-out<span class="caption">{left("them")}</span></button>
        <button type="button" onClick={() => act({ type: "rally_replayed" })}>Replayed rally</button>
        <button type="button" onClick={() => onOpen("penalty")}>Penalty…</button>
        <button type="button" onClick={() => onOpen("wrong-server")}>Wrong server…</button>
        <button type="button" onClick={() => act({ type: "sides_changed" })}>Sides changed{side_change_due && <span class="caption">due</span>}</button>
        <button type="button" onClick={() => onOpen("rallies")}>Last rallies…</button>
        <button type="button" onClick={() => onOpen("put-right")}>Put right by hand…<span class="caption">rotation, score, server</span></button>
        <button type="button" onClick={() => onOpen("served")}>Served elsewhere…</button>
        <button type="button" onClick={() => onOpen("hands")}>Hand signals…</button>
        <button type="button" onClick={() => onOpen("notes")}>Notes…<span class="caption">{notes(answer).length}</span></button>
        <button type="button" onClick={() => onOpen("liked")}>This screen…</button>
      </div>
      <p class="sheet-links"><Link to={reviewPath(now.id ?? "")}>Review so far</Link> <Link to={sharePath(now.id ?? "")}>Hand over to another phone</Link></p>
      <details><summary>End the set or the match by hand</summary>
        <div class="choices-grid">
          <button type="button" onClick={() => act({ type: "set_ended" })}>The set is over</button>
          <button type="button" onClick={() => act({ type: "match_ended" })}>The match is over</button>
          <button type="button" onClick={() => act({ type: "match_abandoned" })}>Abandoned</button>
          <button type="button" onClick={() => act({ type: "forfeited", side: "them", scope: "match", how: "incomplete" })}>They forfeit</button>
          <button type="button" onClick={() => act({ type: "forfeited", side: "us", scope: "match", how: "incomplete" })}>We forfeit</button>
        </div>
      </details>
    </Sheet>
  );
}
