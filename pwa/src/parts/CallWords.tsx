import type { Call } from "../api/types";

/** The call in words: where from, where to. */
export function CallWords({ call: { words } }: { call: Call }) {
  return (
    <>
      <span class="spot">{words.spot}</span> <span class="arrow">→</span> <span class="target">{words.target}</span>
    </>
  );
}

/** Rallies won and serves missed, of 100. */
export function Odds({ call: { words }, assumed }: { call: Call; assumed: boolean }) {
  const [wins, ...rest] = words.odds.split(" · ");
  return (
    <p class="odds">
      <b>{wins}</b>
      {rest.map((part) => <span key={part}> · {part}</span>)}
      {assumed && <span class="assumed"> · assumed</span>}
    </p>
  );
}
