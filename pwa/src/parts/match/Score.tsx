import type { MatchState } from "../../api/match";

/** Score and who serves: our server in a disc on our side, theirs in a ring on theirs. */
export function Score({ state, onServer }: { state: MatchState; onServer: () => void }) {
  const { points, sets, set_number, serving, server } = state;
  const badge = (side: "us" | "them") =>
    serving === side && (
      <button type="button" class={`badge ${side}`} onClick={onServer} aria-label={`${side === "us" ? "We serve" : "They serve"}, ${server?.number === null || !server ? "number not known" : `number ${server.number}`}. Change`}>
        {server?.number ?? <small>{side === "us" ? "we" : "they"}</small>}
      </button>
    );
  return (
    <div class="score">
      {badge("us")}
      <p class="points" aria-label={`Score: we ${points.us}, they ${points.them}`}><span class="ours">{points.us}</span><span class="dash">–</span><span class="theirs">{points.them}</span></p>
      {badge("them")}
      <p class="sets caption"><span>set {set_number}</span> <span>{sets.us}–{sets.them}</span></p>
    </div>
  );
}
