import { session } from "../actions/session";
import { useStore } from "../store/store";
import { Link } from "./Link";

/** The ways from the first screen to all others: the two of a match day in sight, the rest behind one fold. */
export function Ways() {
  const { who } = useStore(session);
  return (
    <nav class="ways" aria-label="Elsewhere">
      <Link to="/matches">Matches</Link>
      <Link to="/server">Server view</Link>
      <details class="fold">
        <summary>More</summary>
        <ul>
          <li><Link to="/team">Team</Link></li>
          <li><Link to="/opponents">Opponents</Link></li>
          <li><Link to="/learn">Learn</Link></li>
          <li><Link to={who ? "/club" : "/sign-in"}>{who ? "Club" : "Sign in"}</Link></li>
        </ul>
      </details>
    </nav>
  );
}
