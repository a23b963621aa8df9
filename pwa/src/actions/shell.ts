/** The app on this device: whether it is all here, whether a newer version waits, and whether what is logged stays. */
import { createStore } from "../store/store";
import { canStore, hasRoom } from "../store/probe";
import { live } from "./match/live";

export interface Shell {
  /** This page is served from this device. */
  readonly controlled: boolean;
  /** Everything that a cold start without network needs is here. */
  readonly ready: boolean;
  /** How much of it has come so far, while it comes. [bytes] */
  readonly getting: { readonly kept: number; readonly all: number } | null;
  /** Why it does not come: the network broke off, no room, an address without HTTPS, a browser that keeps nothing. */
  readonly problem: "stopped" | "full" | "insecure" | "blocked" | null;
  /** A newer version is here and waits for a yes; "held" when another tab is in a rally. */
  readonly update: "none" | "waiting" | "held";
  readonly storage: "unknown" | "kept" | "may_be_cleared" | "refused";
  /** What the browser says it still lets the app store; null if it does not say. [bytes] */
  readonly room: number | null;
  /** A match may not find room here. */
  readonly low: boolean;
  /** The browser offers to install the app. */
  readonly installable: boolean;
}

/** chosen: where a browser says how much room there is, less is little: a newer version lies here beside the older one for a moment, some 14 MB. */
const LOW_BYTES = 20e6;
/** chosen: what must fit in any case, several times a long match. */
const MATCH_BYTES = 4e6;
const CHECK_AGAIN_MS = 3_600_000; // chosen: an app that stays open for days looks for a newer version once an hour
const RALLY = "cornerwise-rally"; // a lock that every tab with a set in play holds

export const shell = createStore<Shell>({
  controlled: false, ready: false, getting: null, problem: null, update: "none", storage: "unknown", room: null, low: false, installable: false,
});

interface Standing { readonly whole: boolean; readonly newer: boolean }
type Said = { readonly type: "getting"; readonly kept: number; readonly all: number } | { readonly type: "stopped"; readonly full: boolean } | { readonly type: "changed" };

const workers = (): ServiceWorkerContainer | undefined => ("serviceWorker" in navigator ? navigator.serviceWorker : undefined);

/** Brings the app onto this device and keeps it up to date. */
export async function startShell(): Promise<void> {
  holdUpdatesWhilePlaying();
  followInstalling();
  void lookAtStorage();
  const container = workers();
  if (!container) return shell.set({ problem: isSecureContext ? "blocked" : "insecure" });
  container.addEventListener("message", ({ data }) => heard(data as Said));
  container.addEventListener("controllerchange", () => void look());
  container.startMessages();
  addEventListener("online", () => void bring());
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && void checkSometimes());
  await bring();
}

/** Fetches what is not here yet; also the way to try again after it broke off. */
export async function bring(): Promise<void> {
  try {
    const registration = await workers()?.register("/sw.js", { updateViaCache: "none" });
    if (registration) follow(registration);
    await look();
  } catch {
    if (!shell.get().ready && !(await look())) shell.set({ problem: navigator.onLine ? "blocked" : "stopped" });
  }
}

let followed: ServiceWorkerRegistration | null = null;

/** Looks again at each step of a version that comes. */
function follow(registration: ServiceWorkerRegistration): void {
  const steps = (): void => registration.installing?.addEventListener("statechange", () => void look());
  steps();
  if (followed !== registration) registration.addEventListener("updatefound", steps);
  followed = registration;
}

let checked = Date.now();

async function checkSometimes(): Promise<void> {
  if (!shell.get().ready) return bring();
  if (Date.now() - checked < CHECK_AGAIN_MS) return;
  checked = Date.now();
  await (await workers()?.getRegistration())?.update().catch(() => undefined); // no network: next time
}

/** Reads how the app stands on this device; returns whether it can be served from here. */
async function look(): Promise<boolean> {
  const registration = await workers()?.getRegistration().catch(() => undefined); // refused like all that is stored
  const { whole, newer } = registration?.active ? await ask(registration.active) : { whole: false, newer: false };
  const waits = newer || Boolean(registration?.active && registration.waiting);
  shell.set({
    controlled: Boolean(workers()?.controller), ready: whole,
    ...(whole && { getting: null, problem: null }),
    ...(waits ? shell.get().update === "none" && { update: "waiting" } : { update: "none" }),
  });
  return whole;
}

const ask = (worker: ServiceWorker): Promise<Standing> =>
  new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data as Standing);
    worker.postMessage("standing", [port2]);
  });

function heard(said: Said): void {
  const { ready } = shell.get();
  if (said.type === "getting" && !ready) shell.set({ getting: { kept: said.kept, all: said.all }, problem: null });
  if (said.type === "stopped" && !ready) shell.set({ getting: null, problem: said.full ? "full" : "stopped" });
  if (said.type === "changed") location.reload(); // every tap is on the disk before it is on the screen
}

/** The coach takes the newer version: all tabs load it, unless one of them is in a rally. */
export async function acceptUpdate(): Promise<void> {
  const registration = await workers()?.getRegistration();
  const free = await withoutRally(() => (registration?.waiting ?? registration?.active)?.postMessage("accept"));
  if (!free) shell.set({ update: "held" });
}

async function withoutRally(act: () => void): Promise<boolean> {
  if (!navigator.locks) return act(), true; // an old browser: this tab, which offers it, is not in a rally
  return navigator.locks.request(RALLY, { ifAvailable: true }, (lock) => {
    if (lock) act();
    return lock !== null;
  });
}

/** Holds the lock while the match on the screen is in play; a tab that crashes lets go of it by itself. */
function holdUpdatesWhilePlaying(): void {
  let letGo: (() => void) | null = null;
  live.watch(() => {
    const playing = live.get().answer?.state.status === "in_play";
    if (playing && !letGo) {
      const over = new Promise<void>((resolve) => (letGo = resolve));
      void navigator.locks?.request(RALLY, { mode: "shared" }, () => over);
    } else if (!playing && letGo) {
      letGo();
      letGo = null;
    }
  });
}

/** Reads whether what is logged here stays. */
export async function lookAtStorage(): Promise<void> {
  const [can, fits, room, persisted] = await Promise.all([canStore(), hasRoom(MATCH_BYTES), roomHere(), navigator.storage?.persisted?.().catch(() => false)]);
  const before = shell.get().storage;
  const low = !fits || (room !== null && room < LOW_BYTES);
  shell.set({ room, low, storage: !can ? "refused" : persisted ? "kept" : before === "refused" ? "unknown" : before });
}

async function roomHere(): Promise<number | null> {
  try {
    const { quota, usage } = await navigator.storage.estimate();
    return quota === undefined ? null : Math.max(0, quota - (usage ?? 0));
  } catch {
    return null;
  }
}

/** Asks the browser to keep what is stored here. When a match is about to begin: earlier nobody knows what for, later it would stand over a rally. */
export async function askToKeep(): Promise<void> {
  const granted = await navigator.storage?.persist?.().catch(() => false);
  await lookAtStorage();
  if (!granted && shell.get().storage === "unknown") shell.set({ storage: "may_be_cleared" });
}

interface InstallPrompt extends Event { prompt(): Promise<unknown> }
let offered: InstallPrompt | null = null;

/** Keeps the browser's offer to install for the settings: no banner comes up by itself. */
function followInstalling(): void {
  addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault();
    offered = event as InstallPrompt;
    shell.set({ installable: true });
  });
  addEventListener("appinstalled", () => {
    offered = null;
    shell.set({ installable: false });
    void askToKeep();
  });
}

export async function installApp(): Promise<void> {
  await offered?.prompt();
  offered = null;
  shell.set({ installable: false });
}
