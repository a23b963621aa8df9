import { useEffect } from "preact/hooks";
import { backToStock, draftAt, editing, fromStock, hold, moveTo, openFormations, saveFormation, showRotation, sixOf, standsAs, standsIn, togglePasses, undrag, type Stands } from "../../actions/opponents/formation";
import { enteredAt } from "../../actions/opponents/kept";
import { state } from "../../actions/state";
import type { Breach, OpponentProfile } from "../../api/opponents";
import { FORMATIONS, type Position } from "../../api/types";
import { Announcer } from "../../parts/Announcer";
import { FormationPad } from "../../parts/court/FormationPad";
import { Diamond } from "../../parts/match/Half";
import { capital } from "../../parts/words";
import { useStore } from "../../store/store";
import { Copies } from "./Copies";
import { Problem } from "./Said";

const ROWS: readonly Position[] = [1, 6, 5, 2, 3, 4]; // as we see them across the net
const MOST_SEEN_TOGETHER = 6;

/** How they stand while we serve, in each of their six rotations. */
export function Formations({ profile }: { profile: OpponentProfile }) {
  const now = useStore(editing);
  const { settings } = useStore(state);
  useEffect(() => void openFormations(), [profile.id]);
  const six = sixOf(now, profile);
  const drafted = draftAt(now, profile, now.setter) !== undefined;
  const entered = enteredAt(profile, now.setter) !== undefined;
  const checked = now.checked?.setter_position === now.setter ? now.checked : null;
  const setting = (checked?.setting_position ?? now.setter) as Position;
  const breaches = checked?.breaches ?? [];
  const room = (checked?.legal && checked.players.find(({ position }) => position === now.held)?.limits) || null;
  return (
    <section class="formations" aria-labelledby="formations-title">
      <h2 id="formations-title">How they receive</h2>
      <Rotations profile={profile} />
      <div class="court-side">
        {six && <FormationPad six={six as readonly (Stands & { position: Position })[]} setting={setting} breaches={breaches} room={room} units={settings} held={now.held} onHold={hold} onMove={moveTo} />}
      </div>
      <div class="beside-court">
        <BrokenOrder breaches={breaches} />
        <Problem problem={now.problem} />
        {six && <Passing six={six} setting={setting} profile={profile} held={now.held} />}
        <div class="stock" role="group" aria-label="Begin from a stock formation">
          <span class="caption">Begin from</span>
          {FORMATIONS.map((formation) => <button key={formation} type="button" onClick={() => void fromStock(formation)}>{formation}</button>)}
        </div>
        <div class="keep" role="group" aria-label="Keep this formation">
          {drafted ? (
            <>
              <button type="button" class="strong" disabled={now.saving || !checked?.legal} onClick={() => void saveFormation()}>Save for setter in {now.setter}</button>
              <button type="button" onClick={undrag}>As it was</button>
            </>
          ) : <p class="caption">{entered ? "Saved for this rotation." : "A stock formation: nothing is entered for this rotation yet. Drag them to where they stand."}</p>}
          {entered && <button type="button" class="quiet" disabled={now.saving} onClick={() => void backToStock()}>Back to the stock formation</button>}
        </div>
        {entered && !drafted && <Copies key={now.setter} profile={profile} />}
      </div>
      <Announcer text={breaches.map(inWords).join(" ")} />
    </section>
  );
}

/** The six rotations in the shape of their half: where their setter is, and what is entered. */
function Rotations({ profile }: { profile: OpponentProfile }) {
  const now = useStore(editing);
  const two = profile.system !== "one_setter";
  return (
    <div class="rotations" role="group" aria-label={`Their ${two ? "first setter" : "setter"} is in`}>
      {ROWS.map((position) => {
        const what = standsAs(now, profile, position);
        return (
          <button key={position} type="button" aria-pressed={now.setter === position} onClick={() => showRotation(position)}>
            <span class="digit">{position}</span><Diamond /><span class="caption">{what}</span>
          </button>
        );
      })}
      <span class="net" aria-hidden="true" />
    </div>
  );
}

const inWords = ({ positions: [a, b], text }: Breach): string => `${a} and ${b} are out of order: ${text}.`;

/** The pairs that are out of order, in words. */
function BrokenOrder({ breaches }: { breaches: readonly Breach[] }) {
  if (breaches.length === 0) return null;
  return (
    <div class="notice breaches">
      {breaches.slice(0, MOST_SEEN_TOGETHER).map((breach) => <p key={breach.positions.join()}><b>{breach.positions[0]} and {breach.positions[1]} are out of order.</b> {capital(breach.text)} ({breach.rule}).</p>)}
      <p class="caption">It can be saved once everyone is in order.</p>
    </div>
  );
}

interface PassingProps { six: readonly Stands[]; setting: Position; profile: OpponentProfile; held: Position | null }

/** Who passes; and for the one who is held, whether a libero stands there. */
function Passing({ six, setting, profile, held }: PassingProps) {
  const passing = six.filter(({ passes }) => passes).length;
  const taken = six.find(({ position }) => position === held);
  const libero = taken && profile.liberos.length > 0 && ([1, 5, 6].includes(taken.position) || taken.number !== null) ? taken : null;
  return (
    <>
      <div class="passing" role="group" aria-label="Who passes">
        <span class="caption">Who passes</span>
        {six.map(({ position, passes, number }) => (
          <button
            key={position} type="button" class="chip" disabled={position === setting || (passes && passing === 1)} aria-pressed={passes}
            onClick={() => togglePasses(position as Position)}
          >
            {position}<span class="caption">{position === setting ? "sets" : passes ? (number === null ? "passes" : `#${number} passes`) : "not"}</span>
          </button>
        ))}
      </div>
      {libero && (
        <div class="passing" role="group" aria-label={`Who stands in ${libero.position}`}>
          <span class="caption">In {libero.position} stands</span>
          <button type="button" class="chip word" aria-pressed={libero.number === null} onClick={() => standsIn(libero.position as Position, null)}>by their order</button>
          {profile.liberos.map((number) => <button key={number} type="button" class="chip word" aria-pressed={libero.number === number} onClick={() => standsIn(libero.position as Position, number)}>libero #{number}</button>)}
        </div>
      )}
    </>
  );
}
