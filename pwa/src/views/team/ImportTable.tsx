import { useState } from "preact/hooks";
import { state, type Settings } from "../../actions/state";
import { accept, editing, look, textOf } from "../../actions/team/edit";
import { COLUMNS, type Column, type Imported, type TeamDetail } from "../../api/roster";
import { useStore } from "../../store/store";
import { COLUMN, playerInWords, serveInWords } from "./words";

const EXAMPLE = "number,name,serve,pace km/h\n4,,jump float,56";

/** A table from any spreadsheet: looked at first, kept only when it is accepted. */
export function ImportTable({ team }: { team: TeamDetail }) {
  const { busy } = useStore(editing);
  const [text, setText] = useState("");
  const [seen, show] = useState<Imported | null>(null);
  const [said, say] = useState("");
  const write = (changed: string): void => {
    setText(changed);
    show(null);
    say("");
  };
  const read = async (columns: readonly (Column | null)[] | null): Promise<void> => {
    say("");
    const found = await look(team.id, text, columns);
    if (found) show(found);
  };
  const open = async (file: File | undefined): Promise<void> => {
    if (!file) return;
    const found = await textOf(file);
    if (found === null) return say("This file is no text. In the spreadsheet, save it as CSV first, or copy the cells and paste them here.");
    write(found);
  };
  const take = async (table: Imported): Promise<void> => {
    const n = table.players.length;
    if (!(await accept(team.id, text, table.columns.map(({ field }) => field)))) return;
    write("");
    say(n === 1 ? "1 player is in the team now." : `${n} players are in the team now.`);
  };
  return (
    <div class="import" onDragOver={(event) => event.preventDefault()} onDrop={(event) => { event.preventDefault(); void open(event.dataTransfer?.files[0]); }}>
      <label class="field">Paste the cells, with their header row, or drop a CSV file here
        <textarea rows={6} value={text} placeholder={EXAMPLE} spellcheck={false} onInput={(event) => write(event.currentTarget.value)} />
      </label>
      <div class="row two">
        <label class="file"><span>Choose a file</span><input type="file" accept=".csv,.tsv,.txt,text/csv,text/plain" onChange={(event) => void open(event.currentTarget.files?.[0])} /></label>
        <button type="button" class={text.trim() === "" ? "" : "strong"} disabled={busy || text.trim() === ""} onClick={() => void read(null)}>Look at it</button>
      </div>
      {said && <p class="notice" role="status">{said}</p>}
      {seen && <Preview table={seen} busy={busy} onColumns={(columns) => void read(columns)} onAccept={() => void take(seen)} />}
    </div>
  );
}

function Preview({ table, busy, onColumns, onAccept }: { table: Imported; busy: boolean; onColumns: (columns: readonly (Column | null)[]) => void; onAccept: () => void }) {
  const { columns, players, errors } = table;
  const fields = columns.map(({ field }) => field);
  return (
    <div class="preview">
      <h3>What each column is</h3>
      <div class="fields">
        {columns.map(({ header, field }, i) => (
          <label key={i} class="field">{header || `column ${i + 1}`}
            <select value={field ?? ""} onChange={(event) => onColumns(fields.map((one, k) => (k === i ? ((event.currentTarget.value || null) as Column | null) : one)))}>
              <option value="">leave out</option>
              {COLUMNS.map((column) => <option key={column} value={column}>{COLUMN[column]}</option>)}
            </select>
          </label>
        ))}
      </div>
      {errors.length > 0 ? <Errors errors={errors} /> : <p><b>{players.length === 1 ? "1 player" : `${players.length} players`}</b>, nothing to mend. Nothing is kept until you accept.</p>}
      <Rows players={players} />
      {errors.length === 0 && players.length > 0 && <button type="button" class="strong" disabled={busy} onClick={onAccept}>Accept {players.length === 1 ? "1 player" : `${players.length} players`}</button>}
    </div>
  );
}

/** What is to be mended, by row and column as the spreadsheet shows them. */
function Errors({ errors }: { errors: Imported["errors"] }) {
  return (
    <div class="notice" role="alert">
      <p><b>{errors.length === 1 ? "One thing is to be mended" : `${errors.length} things are to be mended`}; nothing is kept yet.</b> Mend the text above and look again.</p>
      <ul class="cell-errors">
        {errors.map(({ row, column, value, expected }, i) => (
          <li key={i}><b>{row === null ? "The table" : `Row ${row}`}{column && `, ${COLUMN[column]}`}</b>: {value === null || value === "" ? "nothing there" : `“${String(value)}”`}; it needs {expected}.</li>
        ))}
      </ul>
    </div>
  );
}

type Row = Imported["players"][number];
/** What a row comes to; a column that says nothing of anybody is left out, so that a phone shows the others whole. */
const COLUMNS_SHOWN: readonly { head: string; cell: (player: Row, settings: Settings) => string }[] = [
  { head: "Name", cell: ({ values }) => values.name ?? "" },
  { head: "Player", cell: ({ values: { role, handedness, reach_m } }, settings) => playerInWords({ role: role ?? null, handedness: handedness ?? null, reach_m: reach_m ?? null }, settings) },
  { head: "Serves", cell: ({ serves }, settings) => (serves ?? []).map((serve) => serveInWords(serve, settings)).join("; ") },
  { head: "In for", cell: ({ comes_in_for }) => (comes_in_for ?? []).join(", ") },
  { head: "Team", cell: ({ exists }) => (exists ? "changes" : "new") },
];

function Rows({ players }: { players: Imported["players"] }) {
  const { settings } = useStore(state);
  if (players.length === 0) return null;
  const told = COLUMNS_SHOWN.map(({ head, cell }) => ({ head, cells: players.map((player) => cell(player, settings)) })).filter(({ cells }) => cells.some(Boolean));
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Players in the table">
      <table>
        <thead><tr><th scope="col">No.</th>{told.map(({ head }) => <th key={head} scope="col">{head}</th>)}</tr></thead>
        <tbody>
          {players.map(({ number }, i) => <tr key={number}><th scope="row">{number}</th>{told.map(({ head, cells }) => <td key={head}>{cells[i]}</td>)}</tr>)}
        </tbody>
      </table>
    </div>
  );
}
