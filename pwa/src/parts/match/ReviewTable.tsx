import type { Row, Share } from "../../api/match";
import { SERVE_ERRORS } from "../../api/match";
import { of100, plain } from "../units";

export interface Group { readonly name: string; readonly row: Row }

const shareOf = ({ count, of, share }: Share): string => (share === null ? "–" : `${of100(share)}% (${count} of ${of})`);

/** Returns missed serves by kind in words, the kinds that occurred only. */
function kinds({ errors_by_kind }: Row): string {
  const known = SERVE_ERRORS.flatMap((kind) => (errors_by_kind[kind] > 0 ? [`${errors_by_kind[kind]} ${kind}`] : []));
  return [...known, ...(errors_by_kind.unknown > 0 ? [`${errors_by_kind.unknown} other`] : [])].join(", ");
}

/** One row a group; n beside every share. */
export function ReviewTable({ title, groups, turns = false }: { title: string; groups: readonly Group[]; turns?: boolean }) {
  if (groups.length === 0) return null;
  return (
    <section class="review-table">
      <h2>{title}</h2>
      <div class="scroll" tabIndex={0} role="region" aria-label={title}>
        <table>
          <thead>
            <tr><th scope="col"><span class="unseen">Group</span></th><th scope="col">Serves</th><th scope="col">Won</th><th scope="col">Missed</th><th scope="col">Aces</th><th scope="col">Mean pass</th>{turns && <><th scope="col">Points a turn</th><th scope="col">Longest run</th></>}</tr>
          </thead>
          <tbody>
            {groups.map(({ name, row }) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td>{row.serves.count} <span class="caption">{row.serves.share === null ? "" : `${of100(row.serves.share)}%`}</span></td>
                <td>{shareOf(row.won)}</td>
                <td>{shareOf(row.errors)} <span class="caption">{kinds(row)}</span></td>
                <td>{shareOf(row.aces)}</td>
                <td>{row.pass_grade.mean === null ? "–" : `${plain(row.pass_grade.mean, 2)} (n ${row.pass_grade.of})`}</td>
                {turns && <><td>{row.points_per_turn?.mean === null || !row.points_per_turn ? "–" : `${plain(row.points_per_turn.mean, 2)} (n ${row.points_per_turn.of})`}</td><td>{row.longest_run ?? "–"}</td></>}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
