/** Tabs of one device: they share the disk, tell each other what was written, and one of them holds the pen of a match. */

const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("cornerwise-log");

/** Tells the other tabs that something was written to a match's log. */
export const tellTabs = (match: string): void => channel?.postMessage(match);

/** Calls back with the match whose log another tab has written to. */
export function hearTabs(heard: (match: string) => void): void {
  channel?.addEventListener("message", ({ data }) => void (typeof data === "string" && heard(data)));
}

export interface Pen { take(): void; drop(): void }

/**
 * Waits for the pen of a match: only the tab that holds it logs. It passes on when that tab closes, or when another takes it.
 * Where a browser has no locks, every tab holds it: the disk keeps their rows in order.
 */
export function askForPen(match: string, onChange: (held: boolean) => void): Pen {
  if (!("locks" in navigator)) {
    onChange(true);
    return { take: () => undefined, drop: () => undefined };
  }
  let end: () => void = () => undefined;
  let current = new AbortController();
  const ask = (options: LockOptions): void => {
    const held = (): Promise<void> => { onChange(true); return new Promise((resolve) => void (end = resolve)); };
    // Rejected when another tab takes the pen, or when this one stops waiting for it.
    navigator.locks.request(`cornerwise-pen-${match}`, options, held).catch((why: unknown) => {
      if (why !== LEFT) { onChange(false); wait(); }
    });
  };
  const wait = (): void => { current = new AbortController(); ask({ signal: current.signal }); };
  onChange(false);
  wait();
  return {
    take: () => { current.abort(LEFT); ask({ steal: true }); },
    drop: () => { current.abort(LEFT); end(); },
  };
}

const LEFT = Symbol("left");

/** Does something in one tab at a time; resolves to undefined at once when another tab is at it. */
export async function alone<T>(what: string, act: () => Promise<T>): Promise<T | undefined> {
  if (!("locks" in navigator)) return act();
  return navigator.locks.request(`cornerwise-${what}`, { ifAvailable: true }, (lock) => (lock ? act() : undefined));
}
