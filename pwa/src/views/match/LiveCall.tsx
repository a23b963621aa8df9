import { staleness } from "../../actions/match/age";
import { weighed, type ToServe } from "../../actions/match/calls";
import { isFresh, uncounted, type Live } from "../../actions/match/live";
import type { Prefs } from "../../actions/match/prefs";
import { state as shown } from "../../actions/state";
import { log } from "../../actions/match/log";
import { comingIn } from "../../actions/match/numbers";
import { called, playerOf, roster } from "../../actions/team/roster";
import type { MatchState, ReplayAnswer } from "../../api/match";
import type { Call, Pose } from "../../api/types";
import { CallWords, Odds } from "../../parts/CallWords";
import { Half } from "../../parts/match/Half";
import { SetterPicker } from "../../parts/SetterPicker";
import { Signal } from "../../parts/Signal";
import { inUnits, of100 } from "../../parts/units";
import { capital, spoken } from "../../parts/words";
import { useStore } from "../../store/store";
import type { SheetName } from "./Sheets";
import { AsOf } from "./Sync";

interface Props {
  now: Live;
  /** The state on the screen has been behind the log for long: the engine wakes. */
  waking: boolean;
  answer: ReplayAnswer;
  liked: Prefs;
  serves: readonly ToServe[];
  call: Call | null;
  poses: readonly Pose[];
  onOpen: (sheet: SheetName) => void;
}

/** The first of the reasons; all of them are under Why. */
const firstPart = (reason: string): string => `${reason.split("; ")[0]?.replace(/\.$/, "")}.`;

/** A server of ours by number, and name where it is known and there is room. */
function Named({ number, us }: { number: number | null; us: string | null }) {
  const name = playerOf(us, number, useStore(roster))?.name;
  return number === null ? <>our server</> : <><b>#{number}</b>{name && <span class="their-name"> {name}</span>}</>;
}

/** The call for our present or next serve, the score it was made for, and their rotation. */
export function LiveCall({ now, waking, answer, liked, serves, call, poses, onOpen }: Props) {
  const { state } = answer;
  const { settings } = useStore(shown);
  const [next, after] = serves;
  const them = state.sides.them;
  const ends = !next && state.serving === "them" && them.setter_position !== null; // our set point: no serve of ours comes after it
  const { us } = state.teams;
  const several = weighed(next?.coming.server.number ?? null, liked, us);
  const substitutes = comingIn(answer, next?.coming.server.number ?? null, useStore(roster));
  return (
    <section class="call live-call" aria-labelledby="the-call">
      <AsOf now={now} age_ms={staleness(now)} />
      <p class="who">
        {state.serving === "us" ? <span>{next?.coming.server.number === null ? "we serve" : <><Named number={next?.coming.server.number ?? null} us={us} /> serves</>}</span> : <span>{ends ? "they serve" : <>If we win this one: <Named number={next?.coming.server.number ?? null} us={us} /></>}</span>}
        {after && after.coming.server.number !== null && <span class="after">then #{after.coming.server.number}</span>}
        <Special state={state} />
      </p>
      {call ? (
        <>
          <h1 id="the-call" tabIndex={-1}><CallWords call={call} /></h1>
          <Odds call={call} />
          {next && <p class="made-for caption">{several > 1 && <span class="which-serve"><b>{capital(spoken(call.kind))}</b>, {call.kind === next.answer?.best.kind ? `best of her ${several}` : "your pick"} · </span>}for {next.coming.points.us}–{next.coming.points.them}, setter in {next.coming.setter_position}{them.formation && `, ${them.formation.formation} pass`}{now.pick?.serve === next.serve && now.pick.index > 0 && ", your pick"}{several === 1 && ` · ${spoken(call.kind)}`}</p>}
          <p class="reason">{firstPart(call.words.reason)}</p>
          {call.next_job?.text && <p class="next-job caption">{inUnits(call.next_job.text, settings)}.</p>}
          {substitutes.length > 0 && <p class="comes-in caption"><button type="button" class="quiet" onClick={() => onOpen("bench")}>{substitutes.map((n) => called(us, n)).join(", ")} may come in to serve</button></p>}
        </>
      ) : next?.coming.setter_position ? <h1 id="the-call" tabIndex={-1}>Working out the call…</h1>
      : ends ? <h1 id="the-call" tabIndex={-1}>Win this one, and the set is ours</h1> : <AskSetter />}
      <Stale now={now} waking={waking} />
      {(call || them.setter_position) && <div class="beside">
        <button type="button" class="their-half" onClick={() => onOpen("setter")}>
          <Half side="them" lineup={them.lineup.map((c) => ({ ...c, setter: c.position === them.setter_position }))} serving={state.serving === "them"} />
          <span class="caption">{them.setter_position ? `their setter in ${them.setter_position}` : "setter not known"}</span>
        </button>
        {poses.length > 0 && <Signal poses={poses} />}
      </div>}
      <Tonight now={now} number={next?.coming.server.number ?? null} ceiling={next?.answer?.policy.error_ceiling ?? null} />
    </section>
  );
}

/** Nothing is known of their setter: one tap. */
function AskSetter() {
  return (
    <div class="ask-setter">
      <h1 id="the-call" tabIndex={-1}>Where is their setter?</h1>
      <SetterPicker setter={null} onPick={(setter_position) => void log([{ type: "lineup_corrected", side: "them", setter_position }], { said: "" })} />
    </div>
  );
}

/** What makes this moment a special one, in a few words. */
function Special({ state: { situation, serving, serving_turn } }: { state: MatchState }) {
  const words = [
    situation.match_point.length > 0 ? `match point ${situation.match_point.map((s) => (s === "us" ? "for us" : "for them")).join(" and ")}`
    : situation.set_point.length > 0 && `set point ${situation.set_point.map((s) => (s === "us" ? "for us" : "for them")).join(" and ")}`,
    situation.after_time_out.length > 0 && "after a time-out",
    serving === "us" && situation.service_errors_in_a_row > 1 && `${situation.service_errors_in_a_row} missed in a row`,
    serving_turn.points > 1 && `${serving_turn.points} points in this turn`,
  ].filter(Boolean);
  return words.length > 0 ? <span class="special">{capital(words.join(", "))}</span> : null;
}

/** Why the call is grey. */
function Stale({ now, waking }: { now: Live; waking: boolean }) {
  if (now.unsaved) return <p class="notice" role="alert"><b>The last tap was not saved.</b> This device has no room, or does not let the app keep anything. Make room and tap again.</p>;
  const fresh = isFresh(now);
  const open = fresh ? 0 : Math.max(1, uncounted(now));
  if (fresh && (!now.gone || now.confirmed)) return null;
  if (!now.gone && now.refused) return <p class="notice" role="alert">{now.refused.message}. {now.refused.faults.map((f) => `${f.field}: ${f.expected}`).join("; ")}</p>;
  if (!now.gone) return waking ? <p class="notice why-stale" role="status"><b>Still counting.</b> What you tapped is kept; score and call are from before.</p> : null;
  return (
    <p class="notice why-stale" role="status">
      <b>The server cannot be reached.</b> {open > 0 ? `${open} ${open === 1 ? "event is" : "events are"} kept here and not counted yet: log who wins, rally by rally.` : "This is from last time, not confirmed yet. What you log is kept here."} Trying again by itself.
    </p>
  );
}

/** How our server stands tonight: errors, points earned, against the ceiling. */
function Tonight({ now, number, ceiling }: { now: Live; number: number | null; ceiling: number | null }) {
  const row = now.review?.by_server.find((r) => r.number === number);
  if (number === null || !row) return null;
  return (
    <p class="tonight caption">
      #{number} tonight: {row.serves.count} {row.serves.count === 1 ? "serve" : "serves"}, {row.won.count} won, {row.aces.count} {row.aces.count === 1 ? "ace" : "aces"}, missed {row.errors.count}
      {ceiling !== null && ` (may miss ${of100(ceiling)} of 100)`}
    </p>
  );
}
