import { useEffect, useState } from "preact/hooks";
import { shownOf, weighed } from "../../../actions/match/calls";
import type { Live } from "../../../actions/match/live";
import { called, roster } from "../../../actions/team/roster";
import { useStore } from "../../../store/store";
import { Sheet } from "../../../parts/match/Sheet";
import { plain } from "../../../parts/units";
import { spoken } from "../../../parts/words";
import type { SheetProps } from "../Sheets";

/** During a time-out: our next three servers' calls, what the log says, and their passers tonight. */
export function TimeOutSheet({ now, answer, liked, serves, onOpen }: SheetProps) {
  const known = useStore(roster);
  return (
    <Sheet title="Time-out" onClose={() => onOpen(null)}>
      <Clock seconds={answer.state.time_out_s} />
      <ol class="next-calls">
        {serves.map((one) => {
          const call = shownOf(one, now.pick);
          const { server, setter_position } = one.coming;
          return (
            <li key={one.serve}>
              <span class="badge us" aria-hidden="true">{server.number ?? "?"}</span>
              <span><b>{call ? call.words.call : "no call yet"}</b><span class="caption">{server.number === null ? "our server" : called(answer.state.teams.us, server.number, known)}{setter_position && `, their setter in ${setter_position}`}{call && ` · ${call.words.odds}`}{call && weighed(server.number, liked, answer.state.teams.us) > 1 && ` · ${spoken(call.kind)}`}{call?.next_job?.text && ` · ${call.next_job.text}`}</span></span>
            </li>
          );
        })}
      </ol>
      <Tonight now={now} />
    </Sheet>
  );
}

function Clock({ seconds }: { seconds: number }) {
  const [left, setLeft] = useState(seconds);
  useEffect(() => {
    const end = Date.now() + seconds * 1000;
    const timer = setInterval(() => setLeft(Math.max(0, Math.round((end - Date.now()) / 1000))), 500);
    return () => clearInterval(timer);
  }, [seconds]);
  return <p class="clock" role="timer" aria-label="Seconds left">{left}</p>;
}

/** What the log says tonight, in a sentence, and their passers by the passes they gave. */
function Tonight({ now: { review } }: { now: Live }) {
  if (!review || review.all.serves.count === 0) return null;
  const { all, by_passer } = review;
  const passers = by_passer.filter(({ pass_grade }) => pass_grade.mean !== null).sort((a, b) => (a.pass_grade.mean as number) - (b.pass_grade.mean as number));
  return (
    <>
      <p>{review.text ?? `Of our ${all.serves.count} serves tonight we won ${all.won.count} and missed ${all.errors.count}.`}</p>
      {passers.length > 0 && (
        <>
          <h3>Their passers tonight</h3>
          <ul class="passers-tonight">
            {passers.map(({ number, pass_grade }) => <li key={number}><b>{number}</b> <span>{plain(pass_grade.mean as number)} of 3</span> <span class="caption">n {pass_grade.of}</span></li>)}
          </ul>
        </>
      )}
    </>
  );
}
