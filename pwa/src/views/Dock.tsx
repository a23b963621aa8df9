import { pickCeiling, pickKind, pickSetter, pickTier } from "../actions/change";
import { hold, move, putBack } from "../actions/move";
import { serversOf, tiers, type Tier } from "../actions/question";
import type { State } from "../actions/state";
import type { StockServer } from "../api/types";
import type { Grip } from "../parts/court/Grips";
import { Ceiling } from "../parts/Ceiling";
import { Cycle } from "../parts/Cycle";
import { MovePad } from "../parts/MovePad";
import { SetterPicker } from "../parts/SetterPicker";
import { netHeight, type Units } from "../parts/units";
import { capital, placeInWords } from "../parts/words";
import { shownCall } from "./shown";

/** What the coach knows, at the thumb: their setter, our server, the level, how bold. */
export function Dock({ now, grips, units }: { now: State; grips: readonly Grip[]; units: Units }) {
  const held = grips.find(({ key }) => key === now.held);
  const call = shownCall(now);
  return (
    <section class="dock" aria-label="What you know">
      {held && call ? (
        <MovePad grip={held} call={call} turned={now.settings.turned} inWords={(place) => placeInWords(place, units, now.answer?.situation.service_line_m ?? 9)} onMove={move} onDone={() => letGo(held.key)} onPutBack={putBack} />
      ) : (
        <>
          <SetterPicker setter={now.question.setter} onPick={pickSetter} />
          <ServerAndLevel now={now} units={units} />
          {now.answer ? <Ceiling policy={now.answer.policy} onPick={pickCeiling} /> : <div class="ceiling" />}
        </>
      )}
    </section>
  );
}

/** Lets go of what was held, and leaves the keyboard where it came from. */
function letGo(key: string): void {
  hold(null);
  document.querySelector<SVGElement>(`[data-grip="${key}"]`)?.focus();
}

export function ServerAndLevel({ now: { stock, question }, units }: { now: State; units: Units }) {
  if (!stock) return <p class="cycles caption">Servers and levels are on their way.</p>;
  const all = tiers(stock);
  const tier = all.find((t) => t.level === question.level && t.net_height_m === question.net_height_m);
  const servers = serversOf(stock, question);
  const server = servers.find((s) => s.kind === question.kind);
  return (
    <div class="cycles">
      <Cycle caption="server" values={servers} value={server ?? (servers[0] as StockServer)} name={(s) => capital(s.name)} onPick={(s) => pickKind(s.kind)} />
      <Cycle caption="level" note={(t) => `net ${netHeight(t.net_height_m, units)}`} values={all} value={tier ?? (all[0] as Tier)} name={(t) => t.name} onPick={pickTier} />
    </div>
  );
}
