/** Events in words: what undo names, and what lists show. */
import type { FirstBall, Grade, MatchEvent, RallyRecord, ServeError, Side } from "../../api/match";

export const WHO: Record<Side, string> = { us: "We", them: "They" };
export const WHOM: Record<Side, string> = { us: "us", them: "them" };
export const GRADE: Record<Grade, string> = { 0: "ace", 1: "one choice", 2: "some choices", 3: "all choices" };
export const FIRST_BALL: Record<FirstBall, string> = { attack: "attack", free_ball: "free ball", overpass: "overpass", none: "none" };
export const ERROR: Record<ServeError, string> = { net: "net", long: "long", wide: "wide", foot: "foot fault" };

const hash = (number: number | null | undefined): string => (number === null || number === undefined ? "?" : `#${number}`);

export function inWords(event: MatchEvent): string {
  switch (event.type) {
    case "rally_won":
      if (event.ending === "ace") return event.winner === "us" ? "our ace" : "their ace";
      if (event.ending === "service_error") return event.winner === "us" ? "they missed" : "we missed";
      return `${WHO[event.winner]} won`;
    case "rally_replayed": return "replayed rally";
    case "pass_graded": return `pass ${event.grade}`;
    case "serve_noted": return event.error ? `missed: ${ERROR[event.error]}` : "a detail of the serve";
    case "substituted": case "exceptionally_substituted": return `${hash(event.enters)} in for ${hash(event.leaves)}`;
    case "libero_replaced": return event.enters === undefined ? `libero ${hash(event.leaves)} out` : `${hash(event.enters)} in for ${hash(event.leaves)}`;
    case "time_out_taken": return event.side === "us" ? "our time-out" : "their time-out";
    case "penalty_point_given": return `penalty: point to ${WHOM[event.to]}`;
    case "lineup_corrected":
      if (event.setter_position) return `${event.side === "us" ? "our" : "their"} setter in ${event.setter_position}`;
      return event.rotate ? `${event.side === "us" ? "we" : "they"} rotated by hand` : "a line-up put right";
    case "score_corrected": return `score put to ${event.us}–${event.them}`;
    case "server_corrected": return `${WHO[event.side]} serve`;
    case "server_seen": return `${hash(event.number)} serves`;
    case "wrong_server_called": return "wrong server";
    case "sides_changed": return "sides changed";
    case "set_started": return "start of set";
    case "set_ended": return "end of set";
    case "match_ended": return "the end of the match";
    case "match_abandoned": return "the match abandoned";
    case "forfeited": return "a forfeit";
    case "expelled": case "disqualified": return `${hash(event.number)} ${event.type}`;
    case "reception_formation_seen": return `${event.formation} passers`;
    case "match_opened": return "the start of the match";
    case "call_shown": return "a call";
    case "retracted": return "an undo";
    default: return event satisfies never;
  }
}

/** Returns how a rally went, in words, without who served. */
export function rallyInWords({ serving, winner, ending, error, grade, first_ball, cancelled }: RallyRecord): string {
  const serve = serving === "us" && grade !== null && grade > 0 ? `pass ${grade}` : "";
  const back = first_ball && first_ball !== "none" ? FIRST_BALL[first_ball] : "";
  const missed = `${serving === "us" ? "we missed" : "they missed"}${error ? `, ${ERROR[error]}` : ""}`;
  const end =
    ending === "replayed" ? "replayed"
    : ending === "ace" ? `${winner === "us" ? "our" : "their"} ace`
    : ending === "service_error" ? missed
    : ending === "wrong_server" ? "wrong server"
    : winner ? `${WHO[winner].toLowerCase()} won` : "no result";
  return [serve, back, end, cancelled ? "taken back" : ""].filter(Boolean).join(", ");
}
