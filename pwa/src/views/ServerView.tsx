import { useRef } from "preact/hooks";
import { caution, showAgain } from "../actions/caution";
import { pickSetter } from "../actions/change";
import { goBack } from "../actions/route";
import type { State } from "../actions/state";
import { POSITIONS, type Call, type Position } from "../api/types";
import { Announcer } from "../parts/Announcer";
import { ServersCourt } from "../parts/court/Court";
import { Fit } from "../parts/Fit";
import { useStore } from "../store/store";
import { Caution } from "./Caution";
import { Notices } from "./Notices";
import { noCallYet, shownCall, stale } from "./shown";
import { StartView } from "./StartView";

const SWIPE_PX = 48; // chosen: a thumb's width, so that a tap is no swipe

/** Returns the setter position `by` places on, round and round. */
export function neighbour(position: Position, by: number): Position {
  return POSITIONS[(POSITIONS.indexOf(position) + by + POSITIONS.length) % POSITIONS.length] as Position;
}

/** The call for the player who serves it: huge, from her own side, on a phone that stands two metres away. */
export function ServerView({ now }: { now: State }) {
  const { read } = useStore(caution);
  const call = shownCall(now);
  const { setter } = now.question;
  if (!read) return <main class="server-view"><Back /><Caution /></main>;
  if (setter === null) return <StartView now={now} />;
  return (
    <Swipe by={(step) => pickSetter(neighbour(setter, step))}>
      <header class="top"><Back /><button type="button" class="link" onClick={showAgain}>Caution</button></header>
      {call && now.answer ? (
        <div class={`poster${stale(now) ? " stale" : ""}`} aria-busy={now.waiting}>
          <Words call={call} />
          <ServersCourt answer={now.answer} call={call} units={now.settings} />
        </div>
      ) : <h1 tabIndex={-1}>{noCallYet(now)}</h1>}
      <Notices now={now} />
      <nav class="turns" aria-label="Their setter’s position">
        <Turn to={neighbour(setter, -1)} before="‹ " />
        <p><span class="caption">setter in</span> <b>{setter}</b></p>
        <Turn to={neighbour(setter, 1)} after=" ›" />
      </nav>
      <Announcer text={call ? `Setter in ${setter}. ${call.words.call}.` : ""} />
    </Swipe>
  );
}

/** On to another setter position; where there is little room, by its number alone. */
function Turn({ to, before, after }: { to: Position; before?: string; after?: string }) {
  return (
    <button type="button" aria-label={`setter in ${to}`} onClick={() => pickSetter(to)}>
      {before}<span class="words">setter in </span>{to}{after}
    </button>
  );
}

const Back = () => <button type="button" class="link" onClick={goBack}>Back to the call</button>;

export function Words({ call }: { call: Call }) {
  const { zone, depth, on_the_line } = call.target;
  return (
    <h1 class="huge" tabIndex={-1} aria-label={`${call.words.call}, ${call.words.kind}`}>
      <span class="from">{call.words.spot.split(" ").map((word) => <Fit key={word} text={word} />)}</span>
      <span class="to">
        <span class="which"><span class="small">zone</span><span class="digit">{zone}</span></span>
        <span class="how"><Fit text={depth} />{on_the_line && <span class="on-line"><span class="small">on the</span><Fit text="line" /></span>}</span>
      </span>
      <span class="kind">{call.words.kind.split(" ").map((word) => <Fit key={word} text={word} />)}</span>
    </h1>
  );
}

/** Left and right by swipe or arrow keys. */
function Swipe({ by, children }: { by: (step: number) => void; children: preact.ComponentChildren }) {
  const start = useRef<{ x: number; y: number } | null>(null);
  const end = (event: PointerEvent): void => {
    if (!start.current) return;
    const [dx, dy] = [event.clientX - start.current.x, event.clientY - start.current.y];
    start.current = null;
    if (Math.abs(dx) > SWIPE_PX && Math.abs(dx) > 2 * Math.abs(dy)) by(dx < 0 ? 1 : -1);
  };
  const press = (event: KeyboardEvent): void => {
    if (event.key === "ArrowRight") by(1);
    if (event.key === "ArrowLeft") by(-1);
  };
  return (
    <main
      class="server-view" onKeyDown={press}
      onPointerDown={(event) => void (start.current = { x: event.clientX, y: event.clientY })}
      onPointerUp={end} onPointerCancel={() => void (start.current = null)}
    >
      {children}
    </main>
  );
}
