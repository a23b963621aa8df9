import { FIRST_BALLS, GRADES, type FirstBall, type Grade, type RallyRecord, type Side } from "../../api/match";
import { FIRST_BALL, GRADE } from "../../actions/match/words";

export interface LogPadProps {
  serving: Side | null;
  rally: RallyRecord | null;
  /** Only results: the state is not known well enough for more. */
  plainly: boolean;
  undo: string | null;
  onGrade: (grade: Grade) => void;
  onFirstBall: (ball: FirstBall) => void;
  onMissed: () => void;
  onAce: () => void;
  onWon: (winner: Side) => void;
  onUndo: () => void;
  onBench: () => void;
  onMore: () => void;
}

/** What happened, in the order in which it becomes known: the serve, the pass, the rally. Every button keeps its place. */
export function LogPad(props: LogPadProps) {
  const { serving, rally, plainly, undo } = props;
  const graded = serving === "us" && rally?.grade !== null && rally?.grade !== undefined;
  return (
    <div class="log-pad" role="group" aria-label="What happened">
      {!plainly && serving !== null && (graded ? <FirstBallRow key="first-ball" now={rally.first_ball} onPick={props.onFirstBall} /> : (
        <div key="fate" class="row two">
          <button type="button" onClick={props.onMissed}>{serving === "us" ? "Missed" : "They missed"}</button>
          <button type="button" onClick={props.onAce}>{serving === "us" ? "Ace" : "Their ace"}</button>
        </div>
      ))}
      {!plainly && serving === "us" && (
        <div key="pass" class="row three" role="group" aria-label="Their pass leaves them">
          {GRADES.map((grade) => (
            <button key={grade} type="button" class="grade" aria-pressed={rally?.grade === grade} onClick={() => props.onGrade(grade)}>
              <span class="top"><Setting grade={grade} /><span class="unseen">Pass </span>{grade}</span><span class="unseen">: </span><span class="caption">{GRADE[grade]}</span>
            </button>
          ))}
        </div>
      )}
      <div key="result" class={`row two result${graded ? " due" : ""}`}>
        <button type="button" onClick={() => props.onWon("us")}>We won</button>
        <button type="button" onClick={() => props.onWon("them")}>They won</button>
      </div>
      <div key="low" class="row three low">
        <button type="button" class="undo" disabled={undo === null} onClick={props.onUndo}>Undo<span class="caption">{undo ?? "nothing yet"}</span></button>
        <button type="button" onClick={props.onBench}>Players</button>
        <button type="button" onClick={props.onMore}>More</button>
      </div>
    </div>
  );
}

/** One, two or three ways out of the setter's hands. */
function Setting({ grade }: { grade: Grade }) {
  const ways = [["M12 12 L12 3"], ["M12 12 L5 4", "M12 12 L19 4"], ["M12 12 L3 5", "M12 12 L12 2.5", "M12 12 L21 5"]][grade - 1] ?? [];
  return <svg class="ways" viewBox="0 0 24 17" aria-hidden="true">{ways.map((d) => <path key={d} d={d} />)}<path class="dot" d="M12 9.5 L15 12.5 L12 15.5 L9 12.5 Z" /></svg>;
}

function FirstBallRow({ now, onPick }: { now: FirstBall | null; onPick: (ball: FirstBall) => void }) {
  return (
    <div class="row four" role="group" aria-label="Their first ball back, if you like">
      {FIRST_BALLS.map((ball) => (
        <button key={ball} type="button" class="light" aria-pressed={now === ball} onClick={() => onPick(ball)}>{ball === "none" ? "nothing back" : FIRST_BALL[ball]}</button>
      ))}
    </div>
  );
}
