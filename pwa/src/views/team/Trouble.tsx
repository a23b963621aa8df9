import { editing } from "../../actions/team/edit";
import { roster } from "../../actions/team/roster";
import { faultInWords } from "../../parts/faults";
import { useStore } from "../../store/store";

/** Why something was not changed, or cannot be. */
export function Trouble() {
  const { away, refused } = useStore(editing);
  const { state } = useStore(roster);
  if (refused?.status === 401 || refused?.status === 403) return <p class="notice" role="alert"><b>Nothing was changed.</b> {refused.status === 401 ? "Sign in as a coach to change a team." : "Only a coach changes a team."}</p>;
  if (refused) return <p class="notice" role="alert"><b>Nothing was changed.</b> {refused.faults.length > 0 ? refused.faults.map(faultInWords).join(" ") : `${refused.message}.`}</p>;
  if (away) return <p class="notice" role="alert"><b>Nothing was changed.</b> The server cannot be reached, and changing a team needs it. Try again when it is back.</p>;
  if (state === "gone") return <p class="notice" role="status"><b>The server cannot be reached.</b> Teams are as they were seen last. To change them, the server is needed.</p>;
  if (state === "barred") return <p class="notice" role="status">Sign in to see your club’s teams.</p>;
  return null;
}
