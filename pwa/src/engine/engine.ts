/** What answers a question about a serve. The app knows this interface only, not where the answers come from. */
import type { CallAnswer, CallRequest, Stock } from "../api/types";

export interface Engine {
  /** The call for a situation, with everything that the screen shows. Fails with Refused or Unreachable. */
  call(request: CallRequest): Promise<CallAnswer>;
  /** Levels, servers and ceilings that need no entering. */
  stock(): Promise<Stock>;
}
