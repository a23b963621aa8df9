/** Pages that come in files of their own, soon after the start: the first call does not wait for them. */
import type { ComponentType } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Link } from "./Link";

const SOON_MS = 3000; // chosen: after the first call is on the screen
const fetches: (() => Promise<unknown>)[] = [];

/** Fetches every page while there is a network: it may be wanted when there is none. */
export const fetchPagesSoon = (): void => void setTimeout(() => fetches.forEach((fetch) => void fetch().catch(() => undefined)), SOON_MS);

/** Returns a page that is fetched when it is first shown, or soon after the start. */
export function later<P extends object>(load: () => Promise<ComponentType<P>>): ComponentType<P> {
  let page: ComponentType<P> | null = null;
  const fetch = (): Promise<ComponentType<P>> => load().then((loaded) => (page = loaded));
  fetches.push(fetch);
  return function Later(props: P) {
    const [Page, show] = useState<ComponentType<P> | null>(() => page);
    const [failed, fail] = useState(false);
    const waited = useRef(Page === null);
    useEffect(() => {
      if (!Page) fetch().then((loaded) => show(() => loaded), () => fail(true));
    }, []);
    useEffect(() => {
      if (Page && waited.current && document.activeElement === document.body) document.querySelector<HTMLElement>("h1")?.focus();
    }, [Page]);
    if (Page) return <Page {...props} />;
    return (
      <main>
        <header class="top"><Link to="/">Cornerwise</Link></header>
        {failed && <h1 tabIndex={-1}>This page is not on the device yet</h1>}
        {failed && <p class="notice" role="alert">Open it once with a network, then it stays here.</p>}
      </main>
    );
  };
}
