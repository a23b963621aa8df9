import { putBack } from "../actions/move";
import { moved } from "../actions/question";
import type { State } from "../actions/state";
import { ask } from "../actions/ask";
import { faultInWords } from "../parts/faults";

/** What stands between the reader and a fresh answer, in a sentence, with what can be done. */
export function Notices({ now }: { now: State }) {
  if (now.refused) {
    const { faults, message } = now.refused;
    return (
      <div class="notice" role="alert">
        <p><b>No call for this.</b> {faults.length === 0 && `${message}.`}</p>
        <ul>{faults.map((fault) => <li key={fault.field + fault.rule}>{faultInWords(fault)}</li>)}</ul>
        {moved(now.question) && <button type="button" onClick={putBack}>Back to stock places</button>}
        <button type="button" onClick={ask}>Try again</button>
      </div>
    );
  }
  if (now.gone) {
    return (
      <div class="notice" role="status">
        <p><b>The server cannot be reached.</b> {now.answer ? `This is the last call it gave, for their setter in ${now.answered?.setter}. ` : ""}Trying again by itself.</p>
        <button type="button" onClick={ask}>Try now</button>
      </div>
    );
  }
  if (now.remembered) return <p class="notice" role="status">From last time. Asking again…</p>;
  return null;
}
