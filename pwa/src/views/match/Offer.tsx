import { useState } from "preact/hooks";
import { FIRST_OFFERED, offered } from "../../actions/match/offer";

interface Offered { readonly name: string; readonly caption: string; readonly pick: () => void }

/** Names to tap, the first few of many; typing into the field above narrows them. */
export function Offer({ label, all, typed }: { label: string; all: readonly Offered[]; typed: string }) {
  const [more, setMore] = useState(0);
  const found = offered(all, typed);
  if (found.length === 0) return null;
  const picked = found.length > FIRST_OFFERED && found[0]?.name === typed;
  const most = more > 0 ? more : picked ? 1 : FIRST_OFFERED;
  return (
    <div class="chips" role="group" aria-label={label}>
      {found.slice(0, most).map(({ name, caption, pick }) => <button key={name} type="button" class="chip word" aria-pressed={typed === name} onClick={pick}>{name}<span class="caption">{caption}</span></button>)}
      {found.length > most && <button type="button" class="chip word" onClick={() => setMore(most + 3 * FIRST_OFFERED)}>More<span class="caption">{found.length - most} of {all.length}, or type</span></button>}
    </div>
  );
}
