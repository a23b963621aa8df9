import { TURNS, type BookShown } from "../../actions/opponents/book";
import type { BookCall, BookRotation } from "../../api/opponents";
import { spoken } from "../../parts/words";
import { comesInWords, equalWords, meetsWords, RotationHalf, setterWords } from "./rotation";

/** The whole book at a glance: rotations side by side, our servers below each other. */
export function BookTable({ now: { turns } }: { now: BookShown }) {
  const rotations = TURNS.map((turn) => turns[turn]?.rotations[0]);
  const servers = rotations.find((one) => one !== undefined)?.calls ?? [];
  if (servers.length === 0) return null;
  return (
    <div class="book-table scroll" tabIndex={0} role="region" aria-label="The whole book">
      <table>
        <thead>
          <tr><td />{rotations.map((rotation, i) => <th key={i} scope="col">{rotation ? <Head rotation={rotation} /> : <span class="caption">…</span>}</th>)}</tr>
        </thead>
        <tbody>
          {servers.map((server) => (
            <tr key={server.server}>
              <th scope="row"><b>#{server.server}</b>{server.name && <span>{server.name}</span>}<span class="caption">{comesInWords(server)}</span></th>
              {rotations.map((rotation, i) => <Cell key={i} one={rotation?.calls.find((one) => one.server === server.server)} />)}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const Head = ({ rotation }: { rotation: BookRotation }) => (
  <>
    <RotationHalf rotation={rotation} />
    <span>{setterWords(rotation)}</span>
    <span class="caption">{meetsWords(rotation)}</span>
    {!rotation.formation_entered && <span class="caption">stock formation</span>}
  </>
);

function Cell({ one }: { one: BookCall | undefined }) {
  if (!one) return <td />;
  const { call, equals, meets } = one;
  if (!call) return <td class="caption">{one.text}</td>;
  return (
    <td class={meets ? "meets" : ""}>
      <span class="the-call">{call.words.call}</span>
      <span class="caption">{call.words.odds} · {spoken(call.kind)}</span>
      {equals[0] && <span class="caption">as good: {equalWords(equals[0], call)}</span>}
      {call.next_job?.text && <span class="caption">{call.next_job.text}</span>}
    </td>
  );
}
