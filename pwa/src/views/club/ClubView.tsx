import { useEffect, useState } from "preact/hooks";
import { beginClub, club, deleteClub, loadClub, renameClub, type ClubHere } from "../../actions/club";
import { leave, left, may, session, setPassword } from "../../actions/session";
import { exportAddress, type Who } from "../../api/club";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { Revoked, ROLE } from "../WhoSign";
import { AddDevice, Devices } from "./Devices";
import { Tokens } from "./Tokens";

/** Who is signed in here; for the coach, everything about the club. */
export function ClubView() {
  const here = useStore(session);
  const now = useStore(club);
  const coach = may("coach", here);
  useEffect(() => {
    beginClub();
    if (coach) void loadClub();
  }, [coach]);
  const { who } = here;
  return (
    <main class="club-view">
      <header class="top"><Link to="/matches">Matches</Link></header>
      <h1 tabIndex={-1}>{who?.club.name ?? "Club"}</h1>
      {now.done && <p class="notice" role="status">{now.done}</p>}
      {now.problem && <p class="notice" role="alert">{now.problem}</p>}
      {!who && (here.revoked ? <Revoked /> : <p>Nobody is signed in on this device. <Link to="/sign-in">Sign in</Link> or <Link to="/join">join by a code</Link>.</p>)}
      {!who && here.of !== null && <StillHere />}
      {who && <You who={who} />}
      {coach && now.state === "gone" && <p class="notice" role="status"><b>The server cannot be reached.</b> Devices, tokens and the club’s data are managed there. <button type="button" onClick={() => void loadClub()}>Try again</button></p>}
      {coach && now.state === "waiting" && <p class="caption" role="status">Looking…</p>}
      {coach && now.club && <Coaches now={now} />}
    </main>
  );
}

/** The server has signed this device out: the club is gone, or the device was not seen for long. */
function StillHere() {
  const [sure, setSure] = useState(false);
  return (
    <section aria-labelledby="still-title">
      <h2 id="still-title">Still on this device</h2>
      <p>Logs of the last club’s matches, with numbers and no names of players. They go on when the same club comes in again.</p>
      {sure ? (
        <div class="notice" role="alert">
          <p><b>Remove them?</b> What was never sent to a server stays.</p>
          <button type="button" onClick={() => void left()}>Remove</button><button type="button" onClick={() => setSure(false)}>Keep them</button>
        </div>
      ) : <button type="button" class="quiet" onClick={() => setSure(true)}>Remove them…</button>}
    </section>
  );
}

function Coaches({ now }: { now: ClubHere }) {
  return (
    <>
      <AddDevice teams={now.teams} />
      <Devices now={now} />
      <TheClub now={now} />
      <Tokens now={now} />
      <Ending now={now} />
    </>
  );
}

function You({ who }: { who: Who }) {
  const [why, setWhy] = useState("");
  const [sure, setSure] = useState(false);
  const out = (): void => void leave().then(setWhy);
  const alone = who.role === "coach" && who.name !== null && !who.has_password;
  return (
    <section aria-labelledby="you-title">
      <h2 id="you-title">On this device</h2>
      <p>Signed in as <b>{who.name ?? who.label}</b>, {ROLE[who.role]}{who.match_id ? ", for one match" : ""}.</p>
      {who.name !== null && <Password has={who.has_password} />}
      {sure ? (
        <div class="notice" role="alert">
          <p><b>Sign out here?</b> What this device keeps of the club is removed; what was logged here and not sent yet stays.{alone ? " You have no password: you could come in again only with a new link from whoever runs the server." : ""}</p>
          <button type="button" onClick={out}>Sign out</button><button type="button" onClick={() => setSure(false)}>Stay</button>
        </div>
      ) : <button type="button" class="quiet" onClick={() => setSure(true)}>Sign out…</button>}
      {why && <p class="notice" role="alert">{why}</p>}
    </section>
  );
}

const SHORTEST = 10;

function Password({ has }: { has: boolean }) {
  const [open, setOpen] = useState(false);
  const [current, setCurrent] = useState("");
  const [fresh, setFresh] = useState("");
  const [said, setSaid] = useState("");
  const [done, setDone] = useState(false);
  const save = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (fresh.length < SHORTEST) return setSaid(`A password has at least ${SHORTEST} characters. You typed ${fresh.length}.`);
    const why = await setPassword(fresh, current === "" ? null : current);
    setSaid(why);
    setDone(why === "");
    if (why === "") { setOpen(false); setFresh(""); setCurrent(""); }
  };
  return (
    <>
      {!has && !open && <p class="notice">You have no password yet. Until you set one, this browser is your only way in.</p>}
      {done && <p class="caption" role="status">The password is set. Wherever else you were signed in, you are signed out.</p>}
      {!open ? <button type="button" class={has ? "" : "strong"} onClick={() => { setOpen(true); setDone(false); }}>{has ? "Change the password" : "Set a password"}</button> : (
        <form onSubmit={(event) => void save(event)}>
          {has && <label class="field">Present password <input type="password" autocomplete="current-password" maxLength={200} value={current} onInput={(event) => setCurrent(event.currentTarget.value)} /></label>}
          <label class="field">New password, {SHORTEST} characters or more <input type="password" autocomplete="new-password" maxLength={200} value={fresh} onInput={(event) => setFresh(event.currentTarget.value)} /></label>
          <p class="caption">It signs you out on all your other devices.{has ? " If you have just come by a link, leave the present one empty." : ""}</p>
          {said && <p class="notice" role="alert">{said}</p>}
          <div class="row two"><button type="submit" class="strong">Save</button><button type="button" onClick={() => setOpen(false)}>Leave it</button></div>
        </form>
      )}
    </>
  );
}

function TheClub({ now }: { now: ClubHere }) {
  const [name, setName] = useState(now.club?.name ?? "");
  return (
    <section aria-labelledby="name-title">
      <h2 id="name-title">The club</h2>
      <form class="one-line" onSubmit={(event) => { event.preventDefault(); void renameClub(name.trim()); }}>
        <label class="field">Name <input type="text" maxLength={100} required value={name} onInput={(event) => setName(event.currentTarget.value)} /></label>
        <button type="submit">Rename</button>
      </form>
      <p class="caption">Who has a name and a password of her own is managed where the server runs: “cornerwise user add”, “list”, “reset”, “remove”.</p>
    </section>
  );
}

/** Everything to take along, and the end. */
function Ending({ now: { club: its } }: { now: ClubHere }) {
  const [sure, setSure] = useState(false);
  return (
    <section aria-labelledby="data-title">
      <h2 id="data-title">The club’s data</h2>
      <p>Only this club sees it. The file has all of it: matches, teams, players, opponents, devices; no passwords, no codes.</p>
      <a class="wide-link" href={exportAddress} download>Save everything to a file</a>
      {sure ? (
        <div class="notice" role="alert">
          <p><b>Delete {its?.name}?</b> {its?.deleting}</p>
          <button type="button" onClick={() => void deleteClub()}>Delete the club for good</button><button type="button" onClick={() => setSure(false)}>Keep it</button>
        </div>
      ) : <button type="button" class="quiet" onClick={() => setSure(true)}>Delete the club…</button>}
    </section>
  );
}
