import { useEffect, useState } from "preact/hooks";
import { ageOf, clockOf, inAges, onlyReads, OUTDATED_MS } from "../../actions/match/age";
import { drop, exchangeNow, sendAgain } from "../../actions/match/exchange";
import { giveToClub } from "../../actions/match/here";
import { saveLog } from "../../actions/match/file";
import { takePen } from "../../actions/match/follow";
import { sendWhole } from "../../actions/match/lost";
import { waitingToBeSent, type Live } from "../../actions/match/live";
import { inWords } from "../../actions/match/words";
import { session } from "../../actions/session";
import { Sheet } from "../../parts/match/Sheet";
import { useStore } from "../../store/store";
import { Link } from "../Link";

const TICK_MS = 5000; // chosen: ages are in words, no finer than that
const JUST_MS = 20_000; // chosen: a few exchanges; younger than this is "now"

/** Draws the component again from time to time, so that ages stay true. */
export function useTick(): void {
  const [, tick] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => tick((n) => n + 1), TICK_MS);
    return () => clearInterval(timer);
  }, []);
}

/** Whether everything is on this device, and what is still to be sent: one small sign, more behind it. */
export function Sync({ now }: { now: Live }) {
  const [open, setOpen] = useState(false);
  useTick();
  return (
    <>
      <button type="button" class={`sync caption ${signOf(now)}`} aria-haspopup="dialog" onClick={() => setOpen(true)}><span role="status">{inShort(now)}</span></button>
      {open && <SyncSheet now={now} onClose={() => setOpen(false)} />}
    </>
  );
}

const ageHere = ({ contact: { heard } }: Live): number | null => (heard ? ageOf(heard) : null);

function signOf(now: Live): string {
  if (now.unsaved || now.turnedDown.length > 0 || now.contact.trouble === "missing" || now.contact.trouble === "full") return "wrong";
  return now.contact.trouble || waitingToBeSent(now) > 0 ? "gone" : "";
}

/** Returns the sign in a few words. */
export function inShort(now: Live): string {
  const { trouble, heard } = now.contact;
  const waiting = waitingToBeSent(now);
  const age = ageHere(now);
  if (now.unsaved) return "last tap not saved";
  if (trouble === "full") return "no room on this device";
  if (now.turnedDown.length > 0) return `${now.turnedDown.length} refused${waiting > 0 ? `, ${waiting} waiting` : ""}`;
  if (trouble === "missing") return "saved here only";
  if (trouble === "not_allowed") return "here only: not allowed";
  if (trouble === "signed_out") return "here only: sign in";
  if (trouble === "revoked") return "here only: revoked";
  if (trouble === "stays") return "here only: your choice";
  if (waiting > 0) return `saved here, ${waiting} waiting`;
  if (heard && age !== null && age < JUST_MS) return "saved and sent";
  return heard ? `saved here, exchanged ${inAges(age)}` : "saved here";
}

const GONE = 410;

const WHY: Record<Exclude<Live["contact"]["trouble"], "">, (status: number) => string> = {
  away: () => "The server cannot be reached. Trying again by itself.",
  later: (status) => `The server answered, but takes nothing at the moment${status === 429 ? ": too much at once" : ""}. Everything is kept here and sent later.`,
  signed_out: () => "Nobody is signed in on this device, so nothing is sent. Everything is kept here and sent once somebody signs in.",
  revoked: () => "The coach has revoked this device. What it had not sent was handed to the server once more, where the coach can accept it; it stays here too.",
  stays: () => "When somebody signed in here, this match was kept on this device. Nothing of it is sent.",
  not_allowed: () => "Who is signed in here may not log this match. Everything is kept here: ask the coach to let this device in, or save it to a file.",
  missing: (status) => `The server ${status === GONE ? "says that this match was deleted" : "has no such match: it may have been restored from an older backup"}. What was logged is still on this device: ${status === GONE ? "save it" : "send it again, or save it"} to a file.`,
  full: () => "This device has no room, or does not let the app keep anything. Make room: what the server has is fetched then.",
};

/** What the sign stands for. */
function SyncSheet({ now, onClose }: { now: Live; onClose: () => void }) {
  const { trouble, status, heard, lost_ms } = now.contact;
  const { who } = useStore(session);
  const waiting = waitingToBeSent(now);
  const others = new Set(now.rows.map(({ event }) => event.device).filter((device) => device !== now.device)).size;
  return (
    <Sheet title="Saved and sent" onClose={onClose}>
      {trouble && <p class="notice" role="status">{WHY[trouble](status)} {(trouble === "signed_out" || trouble === "revoked") && <Link to={trouble === "revoked" ? "/join" : "/sign-in"}>{trouble === "revoked" ? "Join again" : "Sign in"}</Link>}</p>}
      {trouble === "missing" && status !== GONE && <button type="button" class="strong" onClick={() => void sendWhole()}>Send the match again</button>}
      {lost_ms !== null && <p class="notice" role="status">The server had lost some of this match, perhaps by an older backup. This device sent it again, {clockOf(lost_ms)}.</p>}
      {trouble === "stays" && who && <button type="button" class="strong" onClick={() => void giveToClub(now.id ?? "")}>Keep it with {who.club.name}</button>}
      <dl class="facts">
        <div><dt>On this device</dt><dd>{now.rows.length} events</dd></div>
        <div><dt>Waiting to be sent</dt><dd>{waiting}</dd></div>
        <div><dt>Last exchanged</dt><dd>{heard ? `${inAges(ageHere(now))}, ${clockOf(heard.wall_ms)}` : "not yet"}</dd></div>
        <div><dt>Other devices that logged</dt><dd>{others}</dd></div>
      </dl>
      {now.turnedDown.length > 0 && (
        <section class="turned-down">
          <h3>Refused by the server</h3>
          <p class="caption">They do not count. Everything else was sent.</p>
          <ul>
            {now.turnedDown.map(({ id, event, said, refused }) => (
              <li key={id}>
                <p><b>{said || inWords(event)}</b> <span class="caption">set {event.set_number}, rally {event.rally_number}</span></p>
                <p class="caption">Why: {refused}</p>
                <div class="row two"><button type="button" onClick={() => void sendAgain([id])}>Send again</button><button type="button" onClick={() => void drop([id])}>Drop</button></div>
              </li>
            ))}
          </ul>
        </section>
      )}
      <div class="row two"><button type="button" onClick={exchangeNow}>Exchange now</button><button type="button" onClick={() => void saveLog(now.id ?? "")}>Save to a file</button></div>
    </Sheet>
  );
}

/** How old a score is that somebody else keeps; said as soon as it is not from just now. */
export function AsOf({ now, age_ms }: { now: Live; age_ms: number | null }) {
  const { heard } = now.contact;
  if (age_ms === null || age_ms < JUST_MS || !onlyReads(now.rows, now.device)) return null;
  const since = heard ? `${inAges(ageOf(heard))}, ${clockOf(heard.wall_ms)}` : "an earlier time";
  return (
    <p class={age_ms >= OUTDATED_MS ? "notice as-of" : "caption as-of"} role="status">
      As of <b>{since}</b>{age_ms >= OUTDATED_MS && ": the score must have moved on since."}
    </p>
  );
}

/** Another tab logs: said where the buttons would be, with the way to take over. */
export function Following() {
  return (
    <div class="following" role="status">
      <p><b>Another tab of this device logs this match.</b> This one follows.</p>
      <button type="button" class="strong" onClick={takePen}>Log here instead</button>
    </div>
  );
}
