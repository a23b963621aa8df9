import type { Review, Row } from "../../api/match";
import { plain } from "../../parts/units";

type Named = Row & { readonly number: number | null };
const byWon = (a: Named, b: Named): number => (b.won.share ?? 0) - (a.won.share ?? 0) || b.serves.count - a.serves.count;

/** Read in twenty seconds: what our serves came to, who served how. n beside every share. */
export function Summary({ review: { all, by_server, text } }: { review: Review }) {
  if (all.serves.count === 0) return <p class="caption">No serves of ours were logged.</p>;
  return (
    <section class="summary" aria-label="Our serves">
      <dl class="headline">
        <div><dt>of our serves won</dt><dd>{all.won.count}<span class="of"> of {all.won.of}</span></dd></div>
        <div><dt>missed</dt><dd>{all.errors.count}</dd></div>
        <div><dt>aces</dt><dd>{all.aces.count}</dd></div>
        <div><dt>points a serving turn</dt><dd>{all.points_per_turn?.mean === null || !all.points_per_turn ? "–" : plain(all.points_per_turn.mean)}<span class="of"> n {all.points_per_turn?.of ?? 0}</span></dd></div>
      </dl>
      {text && <p>{text}</p>}
      <ul class="server-lines">
        {[...by_server].sort(byWon).map((row) => (
          <li key={row.number}>
            <b>{row.number === null ? "?" : `#${row.number}`}</b>
            <Dots row={row} />
            <span class="caption">won {row.won.count} of {row.won.of}, missed {row.errors.count}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

const STEP = 10;

/** One sign a serve: filled for won, open for lost, a cross for missed. */
export function Dots({ row }: { row: Row }) {
  const { won, errors, serves } = row;
  const kinds = [...Array<string>(won.count).fill("won"), ...Array<string>(Math.max(0, serves.count - won.count - errors.count)).fill("lost"), ...Array<string>(errors.count).fill("missed")];
  return (
    <svg class="dots-row" viewBox={`0 0 ${Math.max(1, kinds.length) * STEP} 10`} width={kinds.length * STEP} height="10" aria-hidden="true">
      {kinds.map((kind, i) => kind === "missed"
        ? <path key={i} class="cross" d={`M${i * STEP + 2} 2 l6 6 m0 -6 l-6 6`} />
        : <circle key={i} class={kind} cx={i * STEP + 5} cy="5" r="3.4" />)}
    </svg>
  );
}
