/** Teams and opponents come to this device soon after somebody is signed in: a hall without network has them, whatever page was opened. */
import { loadOpponents } from "./opponents/list";
import { session } from "./session";
import { refreshRoster } from "./team/roster";

const SOON_MS = 1500; // chosen: what was opened comes first

let club: string | null = null;

/** From now on what the club has is brought, once for each club and start; a device for one match or for calls alone has no use for it. */
export function bringWhenIn(): void {
  session.watch(look);
  look();
}

function look(): void {
  const { who, heard } = session.get();
  const whose = heard && who && who.role !== "server" && !who.match_id ? who.club.id : null;
  if (whose === club) return;
  club = whose;
  if (whose) setTimeout(() => whose === club && bring(), SOON_MS);
}

function bring(): void {
  void refreshRoster();
  void loadOpponents();
}
