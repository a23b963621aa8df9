/** What the phone itself does: stay awake while a match is open, a short buzz at a tap. Never a sound. */
import { prefs } from "./prefs";

const BUZZ_MS = 12; // chosen: felt, not heard

export function buzz(): void {
  if (prefs.get().vibrate && "vibrate" in navigator) navigator.vibrate(BUZZ_MS);
}

let lock: WakeLockSentinel | null = null;
let wanted = false;

export async function stayAwake(on: boolean): Promise<void> {
  wanted = on;
  if (!on) {
    await lock?.release().catch(() => undefined);
    lock = null;
    return;
  }
  if (!("wakeLock" in navigator) || lock || document.visibilityState !== "visible") return;
  lock = await navigator.wakeLock.request("screen").catch(() => null); // refused on a low battery: nothing to do
  lock?.addEventListener("release", () => void (lock = null));
}

document.addEventListener("visibilitychange", () => void (wanted && stayAwake(true)));
