import type { Listed } from "../actions/match/list";
import { session } from "../actions/session";
import { useStore } from "../store/store";
import { Link } from "./Link";

export const ROLE = { coach: "coach", assistant: "assistant", server: "server view" } as const;

/** Who is signed in on this device: one quiet line, more behind it. */
export function WhoSign() {
  const { who, awake, revoked } = useStore(session);
  if (!awake) return null;
  if (!who) return <Link to={revoked ? "/join" : "/sign-in"}>{revoked ? "Join again" : "Sign in"}</Link>;
  return <Link to="/club"><span class="who"><b>{who.club.name}</b> <span class="caption">{ROLE[who.role]}</span></span></Link>;
}

/** Where the list stands without the server's matches: for nobody, and for a device that was revoked. */
export function StandingHere({ state, none }: { state: Listed["state"]; none: boolean }) {
  const { who, awake } = useStore(session);
  if (state === "signed_out") {
    return (
      <div class="notice" role="status">
        <p><b>{none ? "Nobody is signed in on this device." : "Only on this device: sign in to keep them with your club."}</b> A match can begin all the same: what you log is kept here, and sent once you are signed in.</p>
        <p class="ways"><Link to="/sign-in">Sign in</Link><Link to="/join">Join by a code</Link></p>
      </div>
    );
  }
  if (state === "revoked") return <Revoked />;
  if (awake && who?.role === "coach" && who.name !== null && !who.has_password) return <div class="sign"><p class="caption">You have no password yet: without this browser you could not come in.</p><Link to="/club">Set one</Link></div>;
  return null;
}

/** Said wherever a revoked device would show its club. */
export function Revoked() {
  return (
    <div class="notice" role="alert">
      <p><b>The coach has revoked this device.</b> What it kept of the club was removed. Anything logged here and not sent was handed in once more, for the coach to accept, and stays here.</p>
      <p><Link to="/join">Join again with a new code</Link></p>
    </div>
  );
}
