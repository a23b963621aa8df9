import { useEffect, useState } from "preact/hooks";
import { acceptFile, beginTaking, matchesHere, offerFile, taking, type Here, type Taking, type Took } from "../../actions/carry/take";
import { matchPath } from "../../actions/route";
import type { Taken } from "../../sync/carried";
import { useArrive } from "../../parts/useArrive";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { Scan } from "./Scan";

/** To this phone from another: scan, a file, or a code from the coach. */
export function TakeOverView() {
  const now = useStore(taking);
  useEffect(beginTaking, []);
  const drop = (event: DragEvent): void => {
    event.preventDefault();
    const file = event.dataTransfer?.files[0];
    if (file) void offerFile(file);
  };
  return (
    <main class="carry-view" onDragOver={(event) => event.preventDefault()} onDrop={drop}>
      <header class="top"><Link to="/matches">Matches</Link></header>
      <h1 tabIndex={-1}>Take over a match</h1>
      {now.failed && <p class="notice" role="alert">{now.failed}</p>}
      {now.took ? <Done took={now.took} /> : (
        <>
          <Scan now={now} />
          <FileIn now={now} />
          <ByCode />
          <InHere />
        </>
      )}
    </main>
  );
}

const events = (n: number): string => (n === 1 ? "1 event" : `${n} events`);
const brought = ({ fresh, known }: Taken): string =>
  fresh === 0 ? `All ${events(known)} were here already.` : `${events(fresh)} new${known > 0 ? `, ${known} were here already` : ""}.`;

function Done({ took }: { took: Took }) {
  return (
    <section class="done" aria-labelledby="done-title">
      <h2 ref={useArrive()} tabIndex={-1} id="done-title">Taken over: {took.name ?? "a match without a name"}</h2>
      {took.said && <p class="stands">{took.said}</p>}
      <p role="status">{brought(took)}</p>
      <Missing missing={took.missing} />
      <Link to={matchPath(took.match)} class={took.missing > 0 ? "wide-link" : "wide-link strong"}>Open the match</Link>
      <button type="button" onClick={beginTaking}>Take over more</button>
    </section>
  );
}

function Missing({ missing }: { missing: number }) {
  if (missing === 0) return null;
  return <p class="notice" role="alert"><b>{events(missing)} before these {missing === 1 ? "is" : "are"} not here.</b> The score cannot be right yet. On the other phone choose “Whole match”, and scan again: what is here is kept.</p>;
}

const MOST_FAULTS = 8; // chosen: enough to see what kind of file it is

function FileIn({ now: { offered, faults } }: { now: Taking }) {
  return (
    <section aria-labelledby="file-title">
      <h2 id="file-title">Open a file</h2>
      <label class="file">A match file, ending in .jsonl <span class="caption wide">or drop it anywhere on this page</span>
        <input type="file" accept=".jsonl,application/jsonl" onChange={({ currentTarget }) => { const [file] = currentTarget.files ?? []; if (file) void offerFile(file); currentTarget.value = ""; }} />
      </label>
      {faults.length > 0 && (
        <div class="notice" role="alert">
          <p><b>Nothing of this file was taken over.</b></p>
          <ul>{faults.slice(0, MOST_FAULTS).map(({ line, said }, i) => <li key={i}>Line {line}: {said}.</li>)}</ul>
          {faults.length > MOST_FAULTS && <p>and {faults.length - MOST_FAULTS} more.</p>}
        </div>
      )}
      {offered && (
        <div class="notice offered" role="status">
          <p><b>{offered.carried.name ?? "A match without a name"}</b>{offered.carried.said && ` · ${offered.carried.said}`}</p>
          <p>{brought(offered.brings)}</p>
          <button type="button" class="strong" onClick={() => void acceptFile()}>Take it over</button>
          <button type="button" onClick={beginTaking}>Leave it</button>
        </div>
      )}
    </section>
  );
}

function ByCode() {
  return (
    <section aria-labelledby="by-code-title">
      <h2 id="by-code-title">With a network: by a code</h2>
      <p>The coach lets this phone in on the match: More, Hand over, Let a phone in. From then on both log it together.</p>
      <Link to="/join" class="wide-link">Type the code</Link>
    </section>
  );
}

function InHere() {
  const [here, setHere] = useState<readonly Here[]>([]);
  useEffect(() => void matchesHere().then(setHere), []);
  if (here.length === 0) return null;
  return (
    <section aria-labelledby="here-title">
      <h2 id="here-title">Already on this phone</h2>
      <ul class="here">{here.map(({ id, name, set_number, rally_number }) => <li key={id}><b>{name ?? "A match without a name"}</b> up to set {set_number}, rally {rally_number}</li>)}</ul>
      <p class="caption">With this the other phone can show fewer codes: from that set on.</p>
    </section>
  );
}
