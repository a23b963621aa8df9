import { useEffect, useState } from "preact/hooks";
import { fileOf, readHand, sendFile, type Hand } from "../../actions/carry/hand";
import { matchPath } from "../../actions/route";
import { may, session } from "../../actions/session";
import { useStore } from "../../store/store";
import { LetIn } from "../club/LetIn";
import { Link } from "../Link";
import { Codes } from "./Codes";

/** From this phone to another: codes, a file, or the same server. */
export function HandOverView({ id }: { id: string }) {
  const [hand, setHand] = useState<Hand | null>(null);
  useEffect(() => {
    let wanted = true;
    void readHand(id).then((found) => wanted && setHand(found));
    return () => void (wanted = false);
  }, [id]);
  return (
    <main class="carry-view">
      <header class="top"><Link to={matchPath(id)}>The match</Link><Link to="/take">Take over instead</Link></header>
      <h1 tabIndex={-1}>Hand over</h1>
      {!hand ? <p class="caption" role="status">Reading…</p> : hand.rows.length === 0 ? (
        <p class="notice" role="status">Nothing of this match is on this device yet, and the server cannot be reached. Scan it from the phone that logs it.</p>
      ) : (
        <>
          <p class="situation"><b>{hand.name ?? "A match without a name"}</b>{hand.said && <> · {hand.said}</>} <span class="caption">{hand.rows.length} events</span></p>
          <Codes hand={hand} />
          <FileOut hand={hand} />
        </>
      )}
      <SameServer id={id} />
    </main>
  );
}

const WENT = { sent: "Handed to the phone's own way of sending.", saved: "Saved among this device's downloads.", left: "" } as const;

function FileOut({ hand }: { hand: Hand }) {
  const [went, setWent] = useState<keyof typeof WENT | null>(null);
  return (
    <section aria-labelledby="file-title">
      <h2 id="file-title">As a file</h2>
      <p>The whole match, also when this phone is about to die. On the other device: Matches, Take over, Open a file.</p>
      <button type="button" onClick={() => void sendFile(fileOf(hand)).then(setWent)}>Send or save the file</button>
      {went && WENT[went] && <p class="caption" role="status">{WENT[went]}</p>}
    </section>
  );
}

/** Where both phones reach the same server: the coach lets the other one in. */
function SameServer({ id }: { id: string }) {
  const here = useStore(session);
  return (
    <section aria-labelledby="server-title">
      <h2 id="server-title">With a network: both log it together</h2>
      {may("coach", here) ? <LetIn open="Let a phone in on this match" request={{ role: "assistant", match: id }} what="It sees and logs this match. With it go the names and serves of our team that plays it, which the screen needs also without network, and what is entered of this opponent. Nothing else of the club." />
        : here.who ? <p>A phone that is signed in finds the match under Matches. Others are let in by the coach, from this page on the coach’s device.</p>
        : <p><Link to="/sign-in">Sign in</Link> as the coach to let another phone in on this match.</p>}
    </section>
  );
}
