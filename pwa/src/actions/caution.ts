/** The caution before the first serve: read once per session of this tab. */
import { createStore } from "../store/store";

const KEY = "caution-read";

function readBefore(): boolean {
  try {
    return sessionStorage.getItem(KEY) === "yes";
  } catch {
    return false;
  }
}

export const caution = createStore<{ readonly read: boolean }>({ read: readBefore() });

export function acknowledge(): void {
  try {
    sessionStorage.setItem(KEY, "yes");
  } finally {
    caution.set({ read: true });
  }
}

export const showAgain = (): void => caution.set({ read: false });
