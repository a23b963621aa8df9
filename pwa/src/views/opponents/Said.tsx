import { Link } from "../Link";
import type { Standing, Unsaved } from "../../actions/opponents/standing";
import { refusedInWords } from "./words";

/** Why something was not saved. */
export const Problem = ({ problem }: { problem: Unsaved | null }) => problem && (
  <div class="notice" role="alert">
    <p><b>{problem.text}</b></p>
    {problem.faults.length > 0 && <ul>{problem.faults.map((fault) => <li key={fault.field}>{refusedInWords(fault)}</li>)}</ul>}
  </div>
);

/** What the list or a page cannot show, and why. */
export function StandingNote({ standing }: { standing: Standing }) {
  if (standing === "gone") return <p class="notice" role="status"><b>The server cannot be reached.</b> What this device keeps is shown; changes are saved when it is back.</p>;
  if (standing === "out") return <p class="notice" role="status"><b>Nobody is signed in on this device.</b> Opponents belong to your club: they are shown once you are in. <Link to="/sign-in">Sign in</Link></p>;
  if (standing === "missing") return <p class="notice" role="status"><b>This opponent is not there.</b> It may have been deleted.</p>;
  return null;
}
