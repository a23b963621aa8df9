import { useEffect, useState } from "preact/hooks";
import { accept, discard, loadClub, lookAtHeld, revoke, type ClubHere } from "../../actions/club";
import { listed, loadMatches } from "../../actions/match/list";
import type { CodeRequest, Device, HeldMatch, Role } from "../../api/club";
import { useStore } from "../../store/store";
import { titleOf } from "../match/MatchesView";
import { ROLE } from "../WhoSign";
import { LetIn } from "./LetIn";

const MEANS: Record<Role, string> = {
  assistant: "All the club’s matches: sees and logs them. No deleting, no devices.",
  server: "Only the call, large: nothing else of the club.",
  coach: "Everything you can do here, this page too.",
};
const MATCHES_OFFERED = 8; // chosen: a server view is for the next match, not for one of last season

/** Lets a device in: for what, then a code. */
export function AddDevice({ teams }: { teams: readonly string[] }) {
  const [role, setRole] = useState<Role>("assistant");
  const [shows, setShows] = useState("");
  const { items } = useStore(listed);
  useEffect(() => void loadMatches(), []);
  const ours = [...new Set([...teams, ...items.flatMap(({ us }) => (us ? [us] : []))])];
  const choices = [...ours.map((team) => ({ value: `team ${team}`, name: `${team}: the match it is playing` })), ...items.slice(0, MATCHES_OFFERED).map((match) => ({ value: `match ${match.id}`, name: `Only ${titleOf(match)}` }))];
  const chosen = choices.find(({ value }) => value === shows)?.value ?? choices[0]?.value ?? "";
  const request: CodeRequest = role !== "server" ? { role } : chosen.startsWith("team ") ? { role, team: chosen.slice(5) } : { role, match: chosen.slice(6) };
  return (
    <section aria-labelledby="add-title">
      <h2 id="add-title">Let a device in</h2>
      <div class="chips" role="group" aria-label="As what">
        {(["assistant", "server", "coach"] as const).map((of) => <button key={of} type="button" class="chip word" aria-pressed={of === role} onClick={() => setRole(of)}>{of === "server" ? "Server view" : of === "coach" ? "Coach" : "Assistant"}</button>)}
      </div>
      {role === "server" && (choices.length === 0 ? <p class="notice">A server view shows the call of a team or of a match: enter a team or begin a match first.</p> : (
        <label class="field">What it shows
          <select value={chosen} onChange={(event) => setShows(event.currentTarget.value)}>{choices.map(({ value, name }) => <option key={value} value={value}>{name}</option>)}</select>
        </label>
      ))}
      <LetIn open="Show a code" request={request} what={MEANS[role]} disabled={role === "server" && chosen === ""} />
    </section>
  );
}

const day = (iso: string): string => new Date(iso).toLocaleDateString(undefined, { day: "numeric", month: "short", year: "numeric" });
const HOUR_MS = 3_600_000;

/** Returns when a device was seen last; the server knows it to the hour. */
function seen(iso: string): string {
  const hours = Math.floor((Date.now() - Date.parse(iso)) / HOUR_MS);
  if (hours < 1) return "seen within the hour";
  return hours < 48 ? `seen ${hours} h ago` : `seen ${day(iso)}`;
}

/** Everything that is signed in, and what was revoked. */
export function Devices({ now }: { now: ClubHere }) {
  const { devices } = now;
  return (
    <section aria-labelledby="devices-title">
      <h2 id="devices-title">Devices</h2>
      <ul class="device-list">{devices.map((device) => <Item key={device.id} device={device} held={now.held[device.id]} />)}</ul>
      <button type="button" class="quiet" onClick={() => void loadClub()}>Look again</button>
    </section>
  );
}

function Item({ device, held }: { device: Device; held: readonly HeldMatch[] | undefined }) {
  const [sure, setSure] = useState(false);
  const { items } = useStore(listed);
  const match = items.find(({ id }) => id === device.match_id);
  const scope = device.match_id ? `, only ${match ? titleOf(match) : "one match"}` : device.team ? `, ${device.team}` : "";
  return (
    <li>
      <p><b>{device.label}</b>{device.this && <span class="caption"> this device</span>}</p>
      <p class="caption">{[`${device.person ? `${device.person}, ` : ""}${ROLE[device.role]}${scope}`, device.revoked_at ? `revoked ${day(device.revoked_at)}` : seen(device.seen_at), device.joined_by ? `let in by ${device.joined_by}` : ""].filter(Boolean).join(" · ")}</p>
      {device.held > 0 && <Held device={device} held={held} />}
      {!device.revoked_at && (sure ? (
        <div class="notice" role="alert">
          {device.this ? <p><b>Revoke the device in your hand?</b> It is signed out at once, and you leave this page.</p>
            : <p><b>Revoke {device.label}?</b> At its next contact with the server it is signed out and removes what it kept of the club. What it had logged until then, also without network, is held here for you to accept. It comes in again only with a new code.</p>}
          <button type="button" onClick={() => { setSure(false); void revoke(device); }}>Revoke</button><button type="button" onClick={() => setSure(false)}>Keep it</button>
        </div>
      ) : <button type="button" class="quiet" onClick={() => setSure(true)}>Revoke…<span class="unseen"> {device.label}</span></button>)}
    </li>
  );
}

/** What a revoked device sent: looked at, then accepted or discarded. */
function Held({ device: { id, held: count, label }, held }: { device: Device; held: readonly HeldMatch[] | undefined }) {
  const [sure, setSure] = useState(false);
  const { items } = useStore(listed);
  return (
    <div class="notice held" role="group" aria-label={`Held from ${label}`}>
      <p><b>{count === 1 ? "1 event is" : `${count} events are`} held.</b> This device sent them after you revoked it. They count only if you accept them.</p>
      {held && <ul>{held.map(({ match_id, events }) => <li key={match_id}>{title(items, match_id)}: {events.length === 1 ? "1 event" : `${events.length} events`}, {places(events)}</li>)}</ul>}
      {!held && <button type="button" onClick={() => void lookAtHeld(id)}>What is it?</button>}
      <button type="button" onClick={() => void accept(id)}>Accept</button>
      {sure ? <button type="button" onClick={() => void discard(id)}>Discard for good</button> : <button type="button" onClick={() => setSure(true)}>Discard…</button>}
    </div>
  );
}

function title(items: readonly { id: string; name: string | null; us: string | null; them: string | null }[], id: string): string {
  const match = items.find((item) => item.id === id);
  return match ? titleOf(match) : "A match that is not on the server yet";
}

/** Returns from where to where events go. */
function places(events: HeldMatch["events"]): string {
  const place = (event: HeldMatch["events"][number] | undefined): string => (event ? `set ${event.set_number}, rally ${event.rally_number}` : "");
  const [first, last] = [place(events[0]), place(events.at(-1))];
  return first === last ? first : `${first} to ${last}`;
}
