/** The pages of handing over and taking over. They come in a file of their own, soon after the start: most calls are made without them. */
import { useEffect, useState } from "preact/hooks";
import { Link } from "../Link";

type Pages = typeof import("./pages");
let loaded: Pages | null = null;
const load = (): Promise<Pages> => import("./pages").then((pages) => (loaded = pages));

const SOON_MS = 3000; // chosen: after the first call is on the screen
/** Fetches the pages while there is a network: they may be wanted when there is none. */
export const loadCarrySoon = (): void => void setTimeout(() => void load().catch(() => undefined), SOON_MS);

/** `id`: the match that is handed over; null to take one over. */
export function Carry({ id }: { id: string | null }) {
  const [pages, setPages] = useState(loaded);
  const [failed, fail] = useState(false);
  useEffect(() => {
    if (!pages) load().then(setPages, () => fail(true));
  }, []);
  if (pages) return id === null ? <pages.TakeOverView /> : <pages.HandOverView id={id} />;
  return (
    <main class="carry-view">
      <header class="top"><Link to="/matches">Matches</Link></header>
      <h1 tabIndex={-1}>{failed ? "This page is not on the device yet" : "Opening…"}</h1>
      {failed && <p class="notice" role="alert">Open it once with a network, then it stays here.</p>}
    </main>
  );
}
