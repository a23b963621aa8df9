import { useEffect } from "preact/hooks";
import { listed, loadMatches } from "../../actions/match/list";
import { against, againstPrepared, beginMatch, playAs, RULES, setup, wakeSetup, type Setup } from "../../actions/match/setup";
import { inOneLine } from "../../actions/match/sheet";
import { tiers } from "../../actions/question";
import { state } from "../../actions/state";
import { listed as listedOpponents, loadAllOpponents } from "../../actions/opponents/list";
import { refreshRoster, roster } from "../../actions/team/roster";
import { PROFILE_NAMES, type ProfileName } from "../../api/match";
import { LineupPad } from "../../parts/match/LineupPad";
import { SetterPicker } from "../../parts/SetterPicker";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { RoomNote } from "../OnThisDevice";
import { Offer } from "./Offer";

const PROFILES: Record<ProfileName, string> = {
  fivb_2025_2028: "FIVB 2025–2028", fivb_2021_2024: "FIVB 2021–2024", us_college_women: "US college women",
  us_high_school: "US high school", us_junior_club: "US junior club", custom: "Our own",
};

/** Before the match: where their setter is and who serves first is enough. */
export function NewMatchView() {
  const now = useStore(setup);
  const { opponents } = useStore(listed);
  const { items } = useStore(listedOpponents);
  useEffect(() => {
    void wakeSetup();
    void loadMatches();
    void refreshRoster();
    void loadAllOpponents();
  }, []);
  const { teams } = useStore(roster);
  const setter = now.theirs.setters[0] ?? null;
  const latest = [...items].sort((a, b) => (a.changed_at < b.changed_at ? 1 : -1)); // prepared last is met first
  const prepared = latest.map((one) => ({ name: one.name, caption: one.formations_entered > 0 ? `prepared, ${one.formations_entered} of 6` : "entered", pick: () => void againstPrepared(one) }));
  const met = opponents.filter(({ name }) => !items.some((one) => one.name === name)).map((one) => ({ name: one.name, caption: "as last time", pick: () => against(one) }));
  const ours = teams.map((team) => ({ name: team.name, caption: `${team.roster.length} players`, pick: () => playAs(team) }));
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
          <label class="field">Their name <input type="text" maxLength={100} value={now.them} placeholder="not needed" onInput={(event) => setup.set({ them: event.currentTarget.value, away: false })} /></label>
          <Offer label="Prepared opponents" all={prepared} typed={now.them} />
          <Offer label="Met before: their last line-up" all={met} typed={now.them} />
          {now.away && <p class="notice" role="status"><b>{now.them} is not on this device.</b> Only the name is taken: what was entered comes when the server can be reached.</p>}
          <details><summary>Their line-up <span class="caption">{inOneLine(now.theirs) || "fills in as each one serves"}</span></summary>
            <LineupPad side="them" draft={now.theirs} onChange={(theirs) => setup.set({ theirs })} /></details>
        </section>
        <section aria-labelledby="us-title">
          <h2 id="us-title">We</h2>
          <label class="field">Our name <input type="text" maxLength={100} value={now.us} placeholder="not needed" onInput={(event) => setup.set({ us: event.currentTarget.value })} /></label>
          <Offer label="Our team" all={ours} typed={now.us} />
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
