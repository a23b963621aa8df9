import { useEffect, useState } from "preact/hooks";
import { teamPath } from "../../actions/route";
import { state } from "../../actions/state";
import { editing, fresh, newTeam } from "../../actions/team/edit";
import { refreshRoster, roster } from "../../actions/team/roster";
import type { Level } from "../../api/types";
import { spoken } from "../../parts/words";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { Trouble } from "./Trouble";

const SHOWN = 20; // chosen: a page of a phone or two

/** Our teams: open one, add one. */
export function TeamsView() {
  const { teams, state: of } = useStore(roster);
  const [most, setMost] = useState(SHOWN);
  useEffect(() => {
    fresh();
    void refreshRoster();
  }, []);
  return (
    <main class="teams-view">
      <header class="top"><Link to="/">Cornerwise</Link><Link to="/matches">Matches</Link></header>
      <h1 tabIndex={-1}>Teams</h1>
      <Trouble />
      <ul class="matches">
        {teams.slice(0, most).map(({ id, name, roster: players, level }) => (
          <li key={id}><Link to={teamPath(id)} class="match"><span class="value">{name}</span><span class="caption">{players.length === 1 ? "1 player" : `${players.length} players`}{level && `, ${spoken(level)}`}</span></Link></li>
        ))}
      </ul>
      {teams.length > most && <button type="button" onClick={() => setMost(most + SHOWN)}>More teams</button>}
      {teams.length === 0 && of === "asking" && <p class="caption" role="status">Looking…</p>}
      {teams.length === 0 && of === "there" && <p>No team yet. Numbers are enough: names are never needed.</p>}
      <NewTeam />
    </main>
  );
}

function NewTeam() {
  const { stock } = useStore(state);
  const { busy } = useStore(editing);
  const [name, setName] = useState("");
  const [level, setLevel] = useState<Level | "">("");
  return (
    <form class="new-team" onSubmit={(event) => { event.preventDefault(); void newTeam(name, level || null); }}>
      <h2>New team</h2>
      <label class="field">Its name <input type="text" required maxLength={100} value={name} onInput={(event) => setName(event.currentTarget.value)} /></label>
      <LevelChoice level={level} levels={stock?.levels ?? []} onPick={setLevel} />
      <button type="submit" class="strong" disabled={busy}>Add the team</button>
    </form>
  );
}

export function LevelChoice({ level, levels, onPick }: { level: Level | ""; levels: readonly { readonly level: Level; readonly name: string }[]; onPick: (level: Level | "") => void }) {
  return (
    <label class="field">Level
      <select value={level} onChange={(event) => onPick(event.currentTarget.value as Level | "")}>
        <option value="">not said</option>
        {levels.map((one) => <option key={one.level} value={one.level}>{one.name}</option>)}
      </select>
    </label>
  );
}
