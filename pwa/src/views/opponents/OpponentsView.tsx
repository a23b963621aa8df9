import { useEffect, useState } from "preact/hooks";
import { listed, loadMoreOpponents, loadOpponents, newOpponent } from "../../actions/opponents/list";
import { bookPath, opponentPath } from "../../actions/route";
import type { ListedOpponent } from "../../api/opponents";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { Problem, StandingNote } from "./Said";
import { LEVEL_NAMES } from "./words";

/** Whom we meet: one line each, and a new one by its name. */
export function OpponentsView() {
  const { items, next, standing, problem } = useStore(listed);
  const [name, setName] = useState("");
  useEffect(() => void loadOpponents(), []);
  return (
    <main class="matches-view opponents-view">
      <header class="top"><Link to="/">Cornerwise</Link></header>
      <h1 tabIndex={-1}>Opponents</h1>
      <StandingNote standing={standing} />
      <Problem problem={problem} />
      {standing !== "out" && (
        <form class="add" onSubmit={(event) => { event.preventDefault(); if (name.trim()) void newOpponent(name); }}>
          <label class="field">New opponent <input type="text" maxLength={100} value={name} placeholder="their name" onInput={(event) => setName(event.currentTarget.value)} /></label>
          <button type="submit" class="strong">Add</button>
        </form>
      )}
      <ul class="matches">{items.map((item) => <Item key={item.id} item={item} />)}</ul>
      {standing === "waiting" && items.length === 0 && <p class="caption" role="status">Looking…</p>}
      {standing === "there" && items.length === 0 && <p>None yet. Add the next one by name: where their setter starts and how they receive is ten minutes’ work.</p>}
      {next && standing === "there" && <button type="button" onClick={() => void loadMoreOpponents()}>More opponents</button>}
    </main>
  );
}

function Item({ item: { id, name, level, formations_entered } }: { item: ListedOpponent }) {
  const formations = formations_entered === 0 ? "formations: stock ones" : `${formations_entered} of 6 formations entered`;
  return (
    <li class="two-ways">
      <Link to={opponentPath(id)} class="match"><span class="value">{name}</span><span class="caption">{[level && LEVEL_NAMES[level], formations].filter(Boolean).join(" · ")}</span></Link>
      <Link to={bookPath(id)}>Call book<span class="unseen"> against {name}</span></Link>
    </li>
  );
}
