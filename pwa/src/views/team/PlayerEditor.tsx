import { useState } from "preact/hooks";
import { state } from "../../actions/state";
import { cornersOf, deletePlayer, editing, editPlayer, serveOf } from "../../actions/team/edit";
import { ROLES, type Corners, type OwnServe, type Role, type Rostered, type TeamDetail } from "../../api/roster";
import { lengthFrom, lengthNumber } from "../../parts/units";
import { useStore } from "../../store/store";
import { Confirm } from "./Confirm";
import { NumberField } from "./NumberField";
import { ServeEditor } from "./ServeEditor";
import { ROLE } from "./words";

/** All that is known of a player, to be changed and saved together. */
export function PlayerEditor({ team, player, onDone }: { team: TeamDetail; player: Rostered; onDone: () => void }) {
  const { settings, stock } = useStore(state);
  const { busy } = useStore(editing);
  const [her, setHer] = useState(player);
  const set = (change: Partial<Rostered>): void => setHer({ ...her, ...change });
  const setServe = (i: number, serve: OwnServe | null): void => set({ serves: her.serves.flatMap((one, k) => (k === i ? (serve ?? []) : one)) });
  const free = (stock?.kinds ?? []).map(({ kind }) => kind).filter((kind) => !her.serves.some((one) => one.kind === kind));
  const usual = stock?.levels.find(({ level }) => level === (team.level ?? stock.start_level))?.usual_kind;
  const next = free.find((kind) => kind === usual) ?? free[0];
  const save = async (event: Event): Promise<void> => {
    event.preventDefault();
    const { number, name, role, handedness, reach_m, serves, comes_in_for } = her;
    if (await editPlayer(team.id, player.id, { number, name: name?.trim() || null, role, handedness, reach_m, serves, comes_in_for })) onDone();
  };
  return (
    <form class="player-editor" aria-label={`Player ${player.number}`} onSubmit={(event) => void save(event)}>
      <div class="fields">
        <NumberField label="Number" whole required min={0} max={99} value={her.number} onNumber={(number) => number !== null && set({ number })} />
        <label class="field">Name <input type="text" maxLength={100} placeholder="not needed" value={her.name ?? ""} onInput={(event) => set({ name: event.currentTarget.value })} /></label>
        <label class="field">Role
          <select value={her.role ?? ""} onChange={(event) => set({ role: (event.currentTarget.value || null) as Role | null })}>
            <option value="">not said</option>
            {ROLES.map((role) => <option key={role} value={role}>{ROLE[role]}</option>)}
          </select>
        </label>
        <label class="field">Serves with
          <select value={her.handedness ?? ""} onChange={(event) => set({ handedness: (event.currentTarget.value || null) as Rostered["handedness"] })}>
            <option value="">not said</option><option value="right">right hand</option><option value="left">left hand</option>
          </select>
        </label>
        <NumberField label={`Reach, ${settings.length}`} placeholder="one arm up" value={her.reach_m === null ? null : lengthNumber(her.reach_m, settings.length)} onNumber={(typed) => set({ reach_m: typed === null ? null : lengthFrom(typed, settings.length) })} />
      </div>
      {her.serves.map((serve, i) => <ServeEditor key={serve.kind} serve={serve} others={free} usual={i === 0} onChange={(changed) => setServe(i, changed)} onRemove={() => setServe(i, null)} />)}
      {next && <button type="button" onClick={() => set({ serves: [...her.serves, serveOf(next)] })}>{her.serves.length === 0 ? "Say how she serves" : "Another kind of serve"}</button>}
      <ComesIn team={team} player={her} onChange={(comes_in_for) => set({ comes_in_for })} />
      {player.serves.some(({ spots }) => spots !== null) && <MissingCorners team={team.id} player={player} />}
      <div class="row two"><button type="submit" class="strong" disabled={busy}>Save</button><button type="button" onClick={onDone}>Leave as it was</button></div>
      <Confirm
        ask="Delete this player…" question={`Delete #${player.number}${player.name ? `, ${player.name}` : ""}?`}
        meaning="Her name, reach and serves are gone for good, here and on every device that looks again. Her number stays in the logs of matches." onSure={() => void deletePlayer(team.id, player.id)}
      />
    </form>
  );
}

function ComesIn({ team, player, onChange }: { team: TeamDetail; player: Rostered; onChange: (numbers: readonly number[]) => void }) {
  const others = team.roster.filter(({ id }) => id !== player.id);
  if (others.length === 0) return null;
  const toggle = (n: number): void => onChange(player.comes_in_for.includes(n) ? player.comes_in_for.filter((one) => one !== n) : [...player.comes_in_for, n]);
  return (
    <div class="comes-in-for" role="group" aria-label="Comes in to serve for">
      <p class="caption" aria-hidden="true">Comes in to serve for</p>
      <div class="chips">{others.map(({ number }) => <button key={number} type="button" class="chip" aria-pressed={player.comes_in_for.includes(number)} onClick={() => toggle(number)}>{number}</button>)}</div>
    </div>
  );
}

/** What the corners cost that she cannot use yet: counted when asked for, since it takes a moment. */
function MissingCorners({ team, player }: { team: string; player: Rostered }) {
  const [found, show] = useState<Corners | null>(null);
  const { busy } = useStore(editing);
  if (!found) return <button type="button" disabled={busy} onClick={() => void cornersOf(team, player.id).then(show)}>{busy ? "Counting…" : "What the missing corners cost"}</button>;
  const against = found.opponents.map(({ name }) => name).join(", ");
  return (
    <div class="missing-corners" role="status">
      {found.missing.length === 0 ? <p>{found.opponents.length === 0 ? "Enter an opponent first: it is counted against them." : "Nothing: she serves as well from where she can."}</p> : (
        <ul>{found.missing.map(({ spot, text, most_per_100 }) => <li key={spot}>{text}, {most_per_100.toFixed(1)} at most.</li>)}</ul>
      )}
      {against && <p class="caption">Against {against}.</p>}
    </div>
  );
}
