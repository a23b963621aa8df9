import { pickFormation, pickSystem, set, toggleSpot } from "../actions/change";
import type { State } from "../actions/state";
import { Cycle } from "../parts/Cycle";
import { TERMS } from "../parts/glossary";
import { Help } from "../parts/Help";
import { SpotPicker } from "../parts/SpotPicker";
import { OnThisDevice } from "./OnThisDevice";
import { LENGTHS, SPEEDS } from "../parts/units";
import { capital, spoken } from "../parts/words";
import { CallsFrom } from "./CallsFrom";

const SYSTEM: Record<string, string> = {
  one_setter: "One setter", two_setters_back_sets: "Two setters, back row sets", two_setters_front_sets: "Two setters, front row sets",
};

/** What is known of them beyond the setter, and how numbers are written. */
export function Settings({ now: { stock, question, settings } }: { now: State }) {
  return (
    <section class="settings" aria-labelledby="settings-title">
      <h2 id="settings-title">More you know, and units</h2>
      <SpotPicker label="Our server may stand at" picked={question.spots} onPick={toggleSpot} />
      <div class="grid">
        {stock && <Cycle caption="their passers" values={stock.formations} value={question.formation} name={capital} onPick={pickFormation} />}
        {stock && <Cycle caption="their setters" values={stock.systems} value={question.system} name={(s) => SYSTEM[s] ?? spoken(s)} onPick={pickSystem} />}
        <Cycle caption="lengths" values={LENGTHS} value={settings.length} name={(u) => u} onPick={(u) => set({ length: u })} />
        <Cycle caption="speeds" values={SPEEDS} value={settings.speed} name={(u) => u} onPick={(u) => set({ speed: u })} />
      </div>
      <CallsFrom />
      <Help label="Every word on this screen" terms={TERMS} />
      <OnThisDevice />
    </section>
  );
}
