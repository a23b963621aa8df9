import { state } from "../../actions/state";
import type { OwnServe } from "../../api/roster";
import { SPOT_NAMES, type Kind, type Level, type SpotName } from "../../api/types";
import { SpotPicker } from "../../parts/SpotPicker";
import { lengthFrom, lengthNumber, speedFrom, speedNumber } from "../../parts/units";
import { capital, spoken } from "../../parts/words";
import { useStore } from "../../store/store";
import { NumberField } from "./NumberField";
import { JOB } from "./words";

interface Props { serve: OwnServe; others: readonly Kind[]; usual: boolean; onChange: (serve: OwnServe) => void; onRemove: () => void }

const JOBS = [5, 6, 1] as const;
const START_SCATTER_M = { across_m: 1, along_m: 1.2, serves: null }; // chosen: something to put right

/** One kind of serve of a player; what is left open is the level's usual. */
export function ServeEditor({ serve, others, usual, onChange, onRemove }: Props) {
  const { settings } = useStore(state);
  const set = (change: Partial<OwnServe>): void => onChange({ ...serve, ...change });
  const toggle = (spot: SpotName): void => {
    const now = serve.spots ?? SPOT_NAMES;
    const after = SPOT_NAMES.filter((name) => now.includes(name) !== (name === spot));
    if (after.length > 0) set({ spots: after.length === SPOT_NAMES.length ? null : after });
  };
  const pace = serve.speeds_m_s?.[0];
  return (
    <fieldset class="serve-editor">
      <legend>{capital(spoken(serve.kind))}{usual && <span class="caption"> her usual one</span>}</legend>
      <div class="fields">
        <label class="field">Kind
          <select value={serve.kind} onChange={(event) => set({ kind: event.currentTarget.value as Kind })}>
            {[serve.kind, ...others].map((kind) => <option key={kind} value={kind}>{capital(spoken(kind))}</option>)}
          </select>
        </label>
        <NumberField label={`Usual pace, ${settings.speed}`} placeholder="as usual" value={pace === undefined ? null : speedNumber(pace, settings.speed)} onNumber={(typed) => set({ speeds_m_s: typed === null ? null : [speedFrom(typed, settings.speed)] })} />
        <NumberField label="May miss, of 100" placeholder="as usual" min={0} max={100} value={serve.error_ceiling === null ? null : Math.round(1000 * serve.error_ceiling) / 10} onNumber={(typed) => set({ error_ceiling: typed === null ? null : typed / 100 })} />
        <label class="field">Then defends
          <select value={serve.next_job ?? ""} onChange={(event) => set({ next_job: JOBS.find((job) => String(job) === event.currentTarget.value) ?? null })}>
            <option value="">not said</option>
            {JOBS.map((job) => <option key={job} value={job}>{JOB[job]}</option>)}
          </select>
        </label>
        <Precision serve={serve} set={set} />
      </div>
      <SpotPicker label="She can serve from" picked={serve.spots ?? SPOT_NAMES} onPick={toggle} />
      <button type="button" class="quiet" onClick={onRemove}>Remove this serve</button>
    </fieldset>
  );
}

/** How precisely she serves: like a level, or as it was measured. */
function Precision({ serve, set }: { serve: OwnServe; set: (change: Partial<OwnServe>) => void }) {
  const { settings, stock } = useStore(state);
  const { scatter } = serve;
  const pick = (value: string): void => {
    if (value === "measured") return set({ scatter: scatter ?? START_SCATTER_M });
    set({ scatter: null, level: (value || null) as Level | null });
  };
  return (
    <>
      <label class="field">As precise as
        <select value={scatter ? "measured" : (serve.level ?? "")} onChange={(event) => pick(event.currentTarget.value)}>
          <option value="">usual at our level</option>
          {(stock?.levels ?? []).map(({ level, name }) => <option key={level} value={level}>{name}</option>)}
          <option value="measured">measured</option>
        </select>
      </label>
      {scatter && (["across_m", "along_m"] as const).map((name) => (
        <NumberField key={name} label={`${name === "across_m" ? "Scatter across" : "Scatter along"}, ${settings.length}`} required value={lengthNumber(scatter[name], settings.length)} onNumber={(typed) => typed !== null && set({ scatter: { ...scatter, [name]: lengthFrom(typed, settings.length) } })} />
      ))}
      {scatter && <NumberField label="Over how many serves" whole min={1} max={999} value={scatter.serves} onNumber={(serves) => set({ scatter: { ...scatter, serves } })} />}
    </>
  );
}
