import { useEffect, useState } from "preact/hooks";
import { state } from "../../actions/state";
import { deleteTeam, editing, editTeam, fresh, newPlayer, withPlayer } from "../../actions/team/edit";
import { refreshRoster, roster } from "../../actions/team/roster";
import { playersAddress, type TeamDetail } from "../../api/roster";
import type { Kind, Level } from "../../api/types";
import { capital, spoken } from "../../parts/words";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { Confirm } from "./Confirm";
import { ImportTable } from "./ImportTable";
import { PlayerEditor } from "./PlayerEditor";
import { LevelChoice } from "./TeamsView";
import { Trouble } from "./Trouble";
import { playerInWords, serveInWords } from "./words";

const IN_FRONT = [4, 3, 2, 5, 6, 1] as const; // as one stands on court, the net in front

/** One team: its players with their serves, its line-up, its table. */
export function TeamView({ id }: { id: string }) {
  const { teams, state: of } = useStore(roster);
  useEffect(() => {
    fresh();
    void refreshRoster();
  }, [id]);
  const team = teams.find((one) => one.id === id);
  return (
    <main class="team-view">
      <header class="top"><Link to="/team">Teams</Link><Link to="/matches/new">New match</Link></header>
      <h1 tabIndex={-1}>{team?.name ?? (of === "there" ? "There is no such team any more" : "Team")}</h1>
      <Trouble />
      {!team && of === "asking" && <p class="caption" role="status">Looking…</p>}
      {team && <div class="columns"><Players team={team} /><div class="beside-players"><Lineup team={team} /><Table team={team} /><About key={team.changed_at} team={team} /></div></div>}
    </main>
  );
}

function Players({ team }: { team: TeamDetail }) {
  const { settings } = useStore(state);
  const [open, setOpen] = useState<string | null>(null);
  return (
    <section aria-labelledby="players-title">
      <h2 id="players-title">Players</h2>
      <AddPlayer team={team} />
      <ul class="players">
        {team.roster.map((one) => (
          <li key={one.id}>
            <button type="button" class="player" aria-expanded={open === one.id} onClick={() => setOpen(open === one.id ? null : one.id)}>
              <span class="shirt">{one.number}</span>
              <span class="who">
                <b>{one.name ?? `Number ${one.number}`}</b>
                <span class="caption">{playerInWords(one, settings)}</span>
                {one.serves.map((serve) => <span key={serve.kind} class="caption">{serveInWords(serve, settings)}</span>)}
                {one.serves.length === 0 && <span class="caption">serves as usual at this level</span>}
                {one.comes_in_for.length > 0 && <span class="caption">comes in to serve for {one.comes_in_for.map((n) => `#${n}`).join(", ")}</span>}
              </span>
            </button>
            {open === one.id && <PlayerEditor team={team} player={one} onDone={() => setOpen(null)} />}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** A number and a tap: her serve is the level's usual one until another is said. */
function AddPlayer({ team }: { team: TeamDetail }) {
  const { stock } = useStore(state);
  const { busy } = useStore(editing);
  const usual = stock?.levels.find((l) => l.level === (team.level ?? stock.start_level))?.usual_kind ?? "standing_float";
  const [number, setNumber] = useState("");
  const [name, setName] = useState("");
  const [kind, setKind] = useState<Kind | null>(null);
  const add = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (!(await newPlayer(team.id, Number(number), name, kind ?? usual))) return;
    setNumber("");
    setName("");
  };
  return (
    <form class="add-player" onSubmit={(event) => void add(event)}>
      <label class="field">Number <input type="number" inputMode="numeric" required min={0} max={99} value={number} onInput={(event) => setNumber(event.currentTarget.value)} /></label>
      <label class="field">Name <input type="text" maxLength={100} placeholder="not needed" value={name} onInput={(event) => setName(event.currentTarget.value)} /></label>
      <label class="field">Serve
        <select value={kind ?? usual} onChange={(event) => setKind(event.currentTarget.value as Kind)}>
          {(stock?.kinds ?? []).map((one) => <option key={one.kind} value={one.kind}>{capital(spoken(one.kind))}</option>)}
        </select>
      </label>
      <button type="submit" class="strong" disabled={busy}>Add</button>
    </form>
  );
}

function Lineup({ team }: { team: TeamDetail }) {
  const [lineup, setLineup] = useState(team.lineup); // what was picked, before the service has it
  const pick = (position: number, number: number | null): void => {
    const after = withPlayer({ lineup }, position, number);
    setLineup(after);
    void editTeam(team.id, { lineup: after });
  };
  return (
    <section aria-labelledby="lineup-title">
      <h2 id="lineup-title">Usual line-up</h2>
      <p class="caption">Where they start a set, the net in front. A new match begins with it.</p>
      <div class="usual-lineup">
        {IN_FRONT.map((position) => (
          <label key={position} class="field">in {position}
            <select aria-label={`Player in ${position}`} value={lineup?.[position - 1] ?? ""} onChange={(event) => pick(position, event.currentTarget.value === "" ? null : Number(event.currentTarget.value))}>
              <option value="">–</option>
              {team.roster.filter(({ role }) => role !== "libero").map(({ number }) => <option key={number} value={number}>{number}</option>)}
            </select>
          </label>
        ))}
      </div>
    </section>
  );
}

function Table({ team }: { team: TeamDetail }) {
  return (
    <section aria-labelledby="table-title">
      <h2 id="table-title">From and to a spreadsheet</h2>
      <ImportTable team={team} />
      <p><a class="wide-link" href={playersAddress(team.id)} download>Download as CSV</a></p>
    </section>
  );
}

function About({ team }: { team: TeamDetail }) {
  const { stock } = useStore(state);
  const [name, setName] = useState(team.name);
  const [level, setLevel] = useState<Level | "">(team.level ?? "");
  return (
    <details>
      <summary>Name, level, delete</summary>
      <form class="about-team" onSubmit={(event) => { event.preventDefault(); void editTeam(team.id, { name, level: level || null }); }}>
        <label class="field">Name <input type="text" required maxLength={100} value={name} onInput={(event) => setName(event.currentTarget.value)} /></label>
        <LevelChoice level={level} levels={stock?.levels ?? []} onPick={setLevel} />
        <button type="submit">Save</button>
      </form>
      <Confirm ask="Delete the team…" question="Delete this team?" meaning={team.deleting} onSure={() => void deleteTeam(team.id)} />
    </details>
  );
}
