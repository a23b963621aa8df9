import type { Call } from "../api/types";

/** The call in words: where from, where to. */
export function CallWords({ call: { words } }: { call: Call }) {
  return (
    <>
      <span class="spot">{words.spot}</span>{" "}
      {`→ ${words.target}`.split(/(→ zone \d|on the line)/).map((part, i) => (i % 2 === 1 ? <span key={part} class="together">{part}</span> : part))}
    </>
  );
}

/** Rallies won and serves missed, of 100. */
export function Odds({ call: { words } }: { call: Call }) {
  const [wins, ...rest] = words.odds.split(" · ");
  return (
    <p class="odds">
      <b>{wins}</b>
      {rest.map((part) => <span key={part}> · {part}</span>)}
    </p>
  );
}
