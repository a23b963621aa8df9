/** What answers a question about a serve. The app knows this interface only, not where the answers come from. */
import type { MatchEvent, ReplayAnswer, Review, Side } from "../api/match";
import type { Book, BookAsked, CheckedFormation, FormationAsked } from "../api/opponents";
import type { PreparedRequest } from "../api/roster";
import type { AimedAnswer, AimedRequest, CallAnswer, CallRequest, Stock } from "../api/types";

export interface Engine {
  /** The call for a situation, with everything that the screen shows. Fails with Refused or Unreachable. */
  call(request: CallRequest): Promise<CallAnswer>;
  /** A request for a call with what was entered of the opponent and of our server; what the request says goes first. */
  prepared(asked: PreparedRequest): Promise<CallRequest>;
  /** The call with what was entered put in: of the kinds of serve that our server has, the best, unless one is meant. */
  chosen(asked: PreparedRequest): Promise<CallAnswer>;
  /** What a serve of somebody's own choice is worth. Refused when the ball cannot get there over the net. */
  aimed(request: AimedRequest): Promise<AimedAnswer>;
  /** What the log of a match says. Fails with Refused or Unreachable. */
  replay(events: readonly MatchEvent[]): Promise<ReplayAnswer>;
  /** What one side's serves in a log came to, in one set or (null) in the whole match. Fails with Refused or Unreachable. */
  review(events: readonly MatchEvent[], side: Side, set_number: number | null): Promise<Review>;
  /** Our serves in a log as a table for any spreadsheet, one a line. `name`: the match's. Fails with Refused or Unreachable. */
  serves(events: readonly MatchEvent[], name: string | null): Promise<{ readonly text: string }>;
  /** Six receivers with the room of each, and the pairs that are out of order. Refused for what no six can stand like. */
  formation(asked: FormationAsked): Promise<CheckedFormation>;
  /** The calls of a match against one opponent, for one of the six rotations. The server is asked first: it is much quicker. */
  book(asked: BookAsked): Promise<Book>;
  /** Levels, servers, ceilings and hand signals that need no entering. */
  stock(): Promise<Stock>;
}
