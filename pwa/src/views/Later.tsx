/** Pages that come in a file of their own, soon after the start: most calls are made without them. */
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Route } from "../actions/route";
import { Link } from "./Link";

const SOON_MS = 3000; // chosen: after the first call is on the screen

export interface Later<Pages> {
  /** Fetches them while there is a network: they may be wanted when there is none. */
  readonly soon: () => void;
  readonly Show: (shown: { back: { to: Route; name: string } | null; children: (pages: Pages) => ComponentChildren }) => ComponentChildren;
}

export function later<Pages>(fetched: () => Promise<Pages>): Later<Pages> {
  let loaded: Pages | null = null;
  const load = (): Promise<Pages> => fetched().then((pages) => (loaded = pages));
  const Show: Later<Pages>["Show"] = ({ back, children }) => {
    const [pages, setPages] = useState(loaded);
    const [failed, fail] = useState(false);
    useEffect(() => {
      if (!pages) load().then(setPages, () => fail(true));
    }, []);
    if (pages) return children(pages);
    return (
      <main class="carry-view">
        <header class="top">{back && <Link to={back.to}>{back.name}</Link>}</header>
        <h1 tabIndex={-1}>{failed ? "This page is not on the device yet" : "Opening…"}</h1>
        {failed && <p class="notice" role="alert">Open it once with a network, then it stays here.</p>}
      </main>
    );
  };
  return { soon: () => void setTimeout(() => void load().catch(() => undefined), SOON_MS), Show };
}
