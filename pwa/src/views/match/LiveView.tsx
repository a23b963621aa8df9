import { useEffect, useMemo, useState } from "preact/hooks";
import { poses, shownOf, toServe, weighed, type ToServe } from "../../actions/match/calls";
import { correct, log, logServe, undo } from "../../actions/match/log";
import { OUTDATED_MS, staleness } from "../../actions/match/age";
import { codeOf } from "../../actions/match/hands";
import { isFresh, live, type Live } from "../../actions/match/live";
import type { Prefs } from "../../actions/match/prefs";
import { lastTap } from "../../actions/match/standing";
import { ace, graded, missed, won } from "../../actions/match/taps";
import { afterPaint } from "../../actions/paint";
import type { FirstBall, Grade, ReplayAnswer, Side } from "../../api/match";
import { Announcer } from "../../parts/Announcer";
import { LogPad } from "../../parts/match/LogPad";
import { Score } from "../../parts/match/Score";
import { SecondsBar } from "../../parts/match/SecondsBar";
import { Link } from "../Link";
import { LiveCall } from "./LiveCall";
import { LivePicture } from "./LivePicture";
import { Prompts } from "./Prompts";
import { Sheets, type SheetName } from "./Sheets";
import { Following, Sync, useTick } from "./Sync";

export interface LiveProps { readonly now: Live; readonly answer: ReplayAnswer; readonly liked: Prefs }

const NOTICEABLE_MS = 400; // chosen: a state that is counted sooner needs no sign of waiting
const LONG_MS = 2000; // chosen: the engine wakes, or is stuck; then words are needed

/** Whether the state on the screen has been behind the log for a while. */
function useLate(fresh: boolean, while_ms: number): boolean {
  const [late, setLate] = useState(false);
  useEffect(() => {
    if (fresh) return setLate(false);
    const timer = setTimeout(() => setLate(true), while_ms);
    return () => clearTimeout(timer);
  }, [fresh]);
  return late && !fresh;
}

/** Returns what is drawn one frame after the rest. */
function useFrameLater<T>(value: T): T {
  const [drawn, draw] = useState(value);
  useEffect(() => afterPaint(() => draw(value)), [value]);
  return drawn;
}

/** The match in play: score, who serves, the call, what happened. */
export function LiveView({ now, answer, liked }: LiveProps) {
  const [sheet, open] = useState<SheetName | null>(null);
  const { state } = answer;
  const fresh = isFresh(now);
  const late = useLate(fresh, NOTICEABLE_MS);
  const waking = useLate(fresh, LONG_MS);
  useTick();
  const age_ms = staleness(now);
  const outdated = age_ms !== null && age_ms >= OUTDATED_MS;
  const serves = toServe(now, liked);
  const next: ToServe | undefined = serves[0];
  const call = next ? shownOf(next, now.pick) : null;
  const ours = state.serving === "us";
  const { rally } = state;
  const serving = ours && fresh ? call : null;
  const grade = (value: Grade): void => {
    if (rally?.grade === value) return;
    if (rally && rally.grade !== null) void correct(rally, { parts: { grade: value } }, "the pass put right");
    else void logServe(graded(value), "", serving);
  };
  const firstBall = (ball: FirstBall): void => {
    if (rally?.first_ball === ball) return;
    if (rally && rally.first_ball !== null) void correct(rally, { parts: { first_ball: ball } }, "the first ball put right");
    else void log([{ type: "serve_noted", first_ball: ball }], { said: "first ball back" });
  };
  const result = (winner: Side): void => void logServe(won(winner), "", serving);
  // The picture is the dearest part to draw: only when the call is another one, and a frame after it.
  const picture = useFrameLater(useMemo(
    () => <LivePicture answer={next?.answer ?? null} call={call} pick={(index) => next && live.set({ pick: { serve: next.serve, index } })} />,
    [next?.answer, next?.serve, call],
  ));
  return (
    <main class={`live${late || outdated || (now.gone && !(fresh && now.confirmed)) ? " stale" : ""}${late ? " past" : ""}${liked.leftHanded ? " left-handed" : ""}`} data-serving={state.serving ?? "nobody"} data-fresh={fresh}>
      <header class="bar">
        <Score state={state} onServer={() => open("server")} />
        <div class="aside"><Link to="/matches">Matches</Link><Sync now={now} /></div>
      </header>
      <LiveCall now={now} waking={waking} answer={answer} liked={liked} serves={serves} call={call} poses={call ? poses(call, codeOf(now)) : []} onOpen={open} />
      {picture}
      <section class="dock live-dock" aria-label="Log">
        {liked.secondsBar && !late && <SecondsBar key={`${next?.serve}/${state.set_number}/${state.rally_number}`} seconds={state.seconds_to_serve} />}
        {now.following ? <Following /> : <><Prompts now={now} answer={answer} known={!late && !now.gone} onOpen={open} />
        <LogPad
          serving={state.serving} rally={rally} plainly={!fresh && now.gone} undo={lastTap(now.rows, now.device)?.said ?? null}
          onGrade={grade} onFirstBall={firstBall} onWon={result}
          onMissed={() => state.serving && void logServe(missed(state.serving), "", serving)}
          onAce={() => state.serving && void logServe(ace(state.serving), "", serving)}
          onUndo={() => void undo()} onBench={() => open("bench")} onMore={() => open("more")}
        /></>}
      </section>
      <Sheets name={sheet} now={now} answer={answer} liked={liked} serves={serves} onOpen={open} />
      <Announcer text={`${state.points.us} ${state.points.them}. ${call ? `${ours ? "" : "If we win this one: "}${call.words.call}${next && weighed(next.coming.server.number, liked, state.teams.us) > 1 ? `, ${call.words.kind}` : ""}` : ""}`} />
    </main>
  );
}
