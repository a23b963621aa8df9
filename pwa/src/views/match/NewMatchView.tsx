import { useEffect } from "preact/hooks";
import { listed, loadMatches } from "../../actions/match/list";
import { against, beginMatch, playAs, RULES, setup, wakeSetup, type Setup } from "../../actions/match/setup";
import { inOneLine } from "../../actions/match/sheet";
import { tiers } from "../../actions/question";
import { state } from "../../actions/state";
import { kept } from "../../actions/opponents/kept";
import { loadOpponents } from "../../actions/opponents/list";
import { sheetFor } from "../../actions/opponents/sheet";
import { refreshRoster, roster } from "../../actions/team/roster";
import { PROFILE_NAMES, type ProfileName } from "../../api/match";
import { LineupPad } from "../../parts/match/LineupPad";
import { SetterPicker } from "../../parts/SetterPicker";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { RoomNote } from "../OnThisDevice";

const OFFERED = 8; // chosen: as buttons; a phone has room for no more

const PROFILES: Record<ProfileName, string> = {
  fivb_2025_2028: "FIVB 2025–2028", fivb_2021_2024: "FIVB 2021–2024", us_college_women: "US college women",
  us_high_school: "US high school", us_junior_club: "US junior club", custom: "Our own",
};

/** Before the match: where their setter is and who serves first is enough. */
export function NewMatchView() {
  const now = useStore(setup);
  const { opponents } = useStore(listed);
  const prepared = useStore(kept).opponents;
  useEffect(() => {
    void wakeSetup();
    void loadMatches();
    void refreshRoster();
    void loadOpponents();
  }, []);
  const { teams } = useStore(roster);
  const setter = now.theirs.setters[0] ?? null;
  return (
    <main class="new-match">
      <header class="top"><Link to="/matches">Matches</Link></header>
      <h1 tabIndex={-1}>New match</h1>
      <RoomNote asks />
      <div class="columns">
        <section aria-labelledby="them-title">
          <h2 id="them-title">Where is their setter?</h2>
          <p class="caption">At the start of the set, as you look at them across the net. Enough for the first call.</p>
          <SetterPicker setter={setter} onPick={(position) => setup.set({ theirs: { ...now.theirs, setters: [position] } })} />
          {prepared.length > 0 && (
            <div class="chips" role="group" aria-label="Prepared opponents">
              {prepared.slice(0, OFFERED).map((one) => <button key={one.id} type="button" class="chip word" aria-pressed={now.them === one.name} onClick={() => against({ name: one.name, level: one.level, sheet: sheetFor(one) })}>{one.name}<span class="caption">{one.formations_entered > 0 ? `prepared, ${one.formations_entered} of 6` : "entered"}</span></button>)}
            </div>
          )}
          <Others label="Another prepared opponent" of={prepared.slice(OFFERED)} now={now.them} onPick={(one) => against({ name: one.name, level: one.level, sheet: sheetFor(one) })} />
          {opponents.length > 0 && (
            <div class="chips" role="group" aria-label="Met before: their last line-up">
              {opponents.filter(({ name }) => !prepared.some((one) => one.name === name)).slice(0, 6).map((opponent) => (
                <button key={opponent.name} type="button" class="chip word" aria-pressed={now.them === opponent.name} onClick={() => against(opponent)}>{opponent.name}<span class="caption">as last time</span></button>
              ))}
            </div>
          )}
          <label class="field">Their name <input type="text" maxLength={100} value={now.them} placeholder="not needed" onInput={(event) => setup.set({ them: event.currentTarget.value })} /></label>
          <details><summary>Their line-up <span class="caption">{inOneLine(now.theirs) || "fills in as each one serves"}</span></summary>
            <LineupPad side="them" draft={now.theirs} onChange={(theirs) => setup.set({ theirs })} /></details>
        </section>
        <section aria-labelledby="us-title">
          <h2 id="us-title">We</h2>
          {teams.length > 0 && (
            <div class="chips" role="group" aria-label="Our team">
              {teams.slice(0, OFFERED).map((team) => <button key={team.id} type="button" class="chip word" aria-pressed={now.us === team.name} onClick={() => playAs(team)}>{team.name}<span class="caption">{team.roster.length} players</span></button>)}
            </div>
          )}
          <Others label="Another of our teams" of={teams.slice(OFFERED)} now={now.us} onPick={playAs} />
          <label class="field">Our name <input type="text" maxLength={100} value={now.us} placeholder="not needed" onInput={(event) => setup.set({ us: event.currentTarget.value })} /></label>
          <details><summary>Our line-up <span class="caption">{inOneLine(now.ours) || "not entered"}</span></summary>
            <LineupPad side="us" draft={now.ours} onChange={(ours) => setup.set({ ours })} /></details>
          <Rules now={now} />
        </section>
      </div>
      <div class="first-serve dock" role="group" aria-label="Who serves first">
        {now.unsaved && <p class="notice" role="alert"><b>The match was not begun.</b> This device has no room, or does not let the app keep anything. Make room and tap again.</p>}
        <p class="devices caption">{PROFILES[now.profile]}. Devices on the bench: check your competition’s rules.</p>
        <button type="button" class="strong" onClick={() => void beginMatch("us")}>We serve first</button>
        <button type="button" class="strong" onClick={() => void beginMatch("them")}>They serve first</button>
      </div>
    </main>
  );
}

/** Those that there is no room for as buttons. */
function Others<T extends { readonly id: string; readonly name: string }>({ label, of, now, onPick }: { label: string; of: readonly T[]; now: string; onPick: (one: T) => void }) {
  if (of.length === 0) return null;
  const pick = (id: string): void => of.filter((one) => one.id === id).forEach(onPick);
  return (
    <label class="field">{label}
      <select value={of.find(({ name }) => name === now)?.id ?? ""} onChange={(event) => pick(event.currentTarget.value)}>
        <option value="">choose</option>
        {of.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
      </select>
    </label>
  );
}

function Rules({ now }: { now: Setup }) {
  const { stock } = useStore(state);
  const levels = stock ? tiers(stock) : [];
  const at = levels.findIndex((t) => t.level === now.level && (now.net_height_m === null || t.net_height_m === now.net_height_m));
  const change = (field: string, text: string): void => {
    const { [field]: _, ...rest } = now.rules;
    setup.set({ rules: text === "" ? rest : { ...rest, [field]: Number(text) } });
  };
  return (
    <details>
      <summary>Rules and level <span class="caption">{PROFILES[now.profile]}{at >= 0 && `, ${levels[at]?.name}`}</span></summary>
      <div class="fields">
        <label class="field">Rules
          <select value={now.profile} onChange={(event) => setup.set({ profile: event.currentTarget.value as ProfileName })}>
            {PROFILE_NAMES.map((name) => <option key={name} value={name}>{PROFILES[name]}</option>)}
          </select>
        </label>
        <label class="field">Level
          <select value={at} onChange={(event) => { const t = levels[Number(event.currentTarget.value)]; if (t) setup.set({ level: t.level, net_height_m: t.net_height_m }); }}>
            {levels.map((t, i) => <option key={i} value={i}>{t.name}, net {t.net_height_m.toFixed(2)} m</option>)}
          </select>
        </label>
      </div>
      {now.profile.startsWith("us_") && <p class="notice">Verify these values with your competition’s rule book.</p>}
      <p class="caption">Single rules, where your competition has its own; empty is as the rules above say.</p>
      <div class="fields">
        {RULES.map(([field, name, min, max]) => (
          <label key={field} class="field">{name}
            <input type="number" inputMode="numeric" min={min} max={max} value={now.rules[field] ?? ""} placeholder="as the rules" onInput={(event) => change(field, event.currentTarget.value)} />
          </label>
        ))}
      </div>
    </details>
  );
}
