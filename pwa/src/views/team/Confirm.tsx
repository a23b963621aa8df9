import { useState } from "preact/hooks";

/** A deletion: first what it means, then a second tap. */
export function Confirm({ ask, question, meaning, onSure }: { ask: string; question: string; meaning: string; onSure: () => void }) {
  const [sure, setSure] = useState(false);
  if (!sure) return <button type="button" class="quiet" onClick={() => setSure(true)}>{ask}</button>;
  return (
    <div class="notice" role="alert">
      <p><b>{question}</b> {meaning}</p>
      <button type="button" onClick={onSure}>Delete for good</button> <button type="button" onClick={() => setSure(false)}>Keep</button>
    </div>
  );
}
