import { useState } from "preact/hooks";
import { addToken, dropToken, type ClubHere } from "../../actions/club";

const ROLES = ["assistant", "coach"] as const;

/** Tokens for scripts that ask the API. */
export function Tokens({ now: { tokens, fresh } }: { now: ClubHere }) {
  const [label, setLabel] = useState("");
  const [role, setRole] = useState<(typeof ROLES)[number]>("assistant");
  const make = (event: Event): void => {
    event.preventDefault();
    if (label.trim()) void addToken({ label: label.trim(), role }).then((made) => made && setLabel(""));
  };
  return (
    <details class="tokens">
      <summary>For scripts: tokens of the API <span class="caption">{tokens.length === 0 ? "none" : tokens.length}</span></summary>
      {fresh && (
        <div class="notice" role="status">
          <p><b>The token {fresh.label}, shown only now:</b></p>
          <p class="address secret">{fresh.token}</p>
          <p class="caption">Send it as “Authorization: Bearer …”. Keep it like a password.</p>
        </div>
      )}
      <ul class="device-list">
        {tokens.map((token) => (
          <li key={token.id}>
            <p><b>{token.label}</b> <span class="caption">{token.role}</span></p>
            <button type="button" class="quiet" onClick={() => void dropToken(token)}>Delete<span class="unseen"> {token.label}</span></button>
          </li>
        ))}
      </ul>
      <form class="one-line" onSubmit={make}>
        <label class="field">What it is for <input type="text" maxLength={100} required value={label} onInput={(event) => setLabel(event.currentTarget.value)} /></label>
        <label class="field">May do what <select value={role} onChange={(event) => setRole(event.currentTarget.value as "assistant" | "coach")}><option value="assistant">an assistant may</option><option value="coach">a coach may</option></select></label>
        <button type="submit">Make a token</button>
      </form>
    </details>
  );
}
