import { useEffect, useState } from "preact/hooks";
import { countOnlyHere, keepHere } from "../../actions/match/here";
import { go, matchPath } from "../../actions/route";
import { enterByCode, enterByLink, enterByPassword, session, type SessionHere } from "../../actions/session";
import { deviceLabel } from "../../parts/device";
import { useStore } from "../../store/store";
import { Link } from "../Link";
import { ROLE } from "../WhoSign";

/** Returns what stands behind # in the address, and takes it out of there: it is a secret. */
function takeHash(): string {
  const hash = decodeURIComponent(location.hash.slice(1));
  if (hash) history.replaceState(history.state, "", location.pathname);
  return hash;
}

/** Signing in: by the link that the server printed, or by name and password. */
export function SignInView() {
  const [once] = useState(() => /^once=(.+)$/.exec(takeHash())?.[1] ?? "");
  const [byName, setByName] = useState(once === "");
  const [name, setName] = useState("");
  const [password, setPassword] = useState("");
  const now = useStore(session);
  return (
    <main class="club-view enter">
      <header class="top"><Link to="/matches">Matches</Link></header>
      <h1 tabIndex={-1}>Sign in</h1>
      <Before now={now} />
      {byName ? (
        <Enter key="name" act="Sign in" onEnter={(label) => enterByPassword(name.trim(), password, label)} onIn={() => go("/matches")} missing={!name.trim() || !password ? "Name and password are needed." : ""}>
          <label class="field">Your name <input type="text" autocomplete="username" maxLength={100} value={name} onInput={(event) => setName(event.currentTarget.value)} /></label>
          <label class="field">Password <input type="password" autocomplete="current-password" maxLength={200} value={password} onInput={(event) => setPassword(event.currentTarget.value)} /></label>
        </Enter>
      ) : (
        <>
          <p>You came by the link that signs in once. One tap, and this browser stays signed in.</p>
          <Enter key="once" act="Sign in" onEnter={(label) => enterByLink(once, label)} onIn={() => go("/matches")} missing="" />
          <p><button type="button" class="quiet" onClick={() => setByName(true)}>With name and password instead</button></p>
        </>
      )}
      <p><Link to="/join">I have a code from the coach</Link></p>
      <p class="caption">The first call, the server view and Learn need no sign-in. The coach’s first link is printed where the server was started; whoever runs the server can make a new one there with “cornerwise user reset”.</p>
    </main>
  );
}

/** Joining: a code from the coach's screen, scanned or typed. */
export function JoinView() {
  const [code, setCode] = useState(takeHash);
  const now = useStore(session);
  useEffect(() => {
    const scanned = (): void => void (location.hash && setCode(takeHash()));
    addEventListener("hashchange", scanned);
    return () => removeEventListener("hashchange", scanned);
  }, []);
  const count = code.replace(/[\s-]/g, "").length;
  return (
    <main class="club-view enter">
      <header class="top"><Link to="/matches">Matches</Link></header>
      <h1 tabIndex={-1}>Join</h1>
      <Before now={now} />
      <Enter
        act="Join" onEnter={(label) => enterByCode(code, label)} onIn={arrive}
        missing={count === CODE_LENGTH ? "" : `A code has ${CODE_LENGTH} letters or digits, like 7K2M 9XQP. ${count === 0 ? "None is typed yet." : `You typed ${count}.`}`}
      >
        <label class="field">Code from the coach’s screen
          <input class="code-box" type="text" autocomplete="off" autocapitalize="characters" spellcheck={false} maxLength={20} value={code} onInput={(event) => setCode(event.currentTarget.value)} />
        </label>
      </Enter>
      <p class="caption">It works once and for ten minutes. What this device may see, the coach has chosen: one match, the club’s matches, or only the call.</p>
    </main>
  );
}

const CODE_LENGTH = 8;

function arrive({ who }: SessionHere): void {
  if (who?.role === "server") return go("/");
  go(who?.match_id ? matchPath(who.match_id) : "/matches");
}

/** Who is signed in here already: coming in as somebody else ends that. */
function Before({ now: { who, revoked } }: { now: SessionHere }) {
  if (revoked) return <p class="notice" role="status">The coach has revoked this device. With a new code or link it comes in again, and sends what it has kept.</p>;
  if (!who) return null;
  return <p class="notice" role="status"><b>This browser is signed in as {who.name ? `${who.name}, ${ROLE[who.role]}` : ROLE[who.role]} of {who.club.name}.</b> Coming in again ends that on this device{who.role === "coach" ? ": open the code on the other device instead, if it is meant for that one" : ""}.</p>;
}

function Enter({ act, onEnter, onIn, missing, children }: { act: string; onEnter: (label: string) => Promise<string>; onIn: (now: SessionHere) => void; missing: string; children?: preact.ComponentChildren }) {
  const [label, setLabel] = useState(deviceLabel);
  const [said, setSaid] = useState("");
  const [busy, setBusy] = useState(false);
  const [here, setHere] = useState(0);
  const [stay, setStay] = useState(false);
  useEffect(() => void countOnlyHere().then(setHere), []);
  const enter = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (missing) return setSaid(missing);
    setBusy(true);
    const letGo = stay ? await keepHere() : null;
    const why = await onEnter(label.trim() || deviceLabel());
    if (why !== "") await letGo?.();
    setBusy(false);
    setSaid(why);
    if (why === "") onIn(session.get());
  };
  return (
    <form onSubmit={(event) => void enter(event)}>
      {children}
      <label class="field">What this device is called in the club’s list
        <input type="text" autocomplete="off" maxLength={100} value={label} onInput={(event) => setLabel(event.currentTarget.value)} />
      </label>
      {here > 0 && (
        <div class="notice" role="group" aria-label="Matches on this device">
          <p><b>{here === 1 ? "1 match is" : `${here} matches are`} on this device only.</b> {stay ? "Nothing of it is sent; it can be given to the club later." : "Whoever comes in now hands it to the club, where all its coaches and assistants see it."}</p>
          <label class="tick"><input type="checkbox" checked={stay} onChange={(event) => setStay(event.currentTarget.checked)} /> Keep {here === 1 ? "it" : "them"} on this device instead</label>
        </div>
      )}
      {said && <p class="notice" role="alert">{said}</p>}
      <button type="submit" class="strong" disabled={busy}>{act}</button>
    </form>
  );
}
