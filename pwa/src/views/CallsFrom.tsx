import { home, type Home } from "../engine/choice";
import { useStore } from "../store/store";

/** Returns in words where the calls come from, and why not from this device. */
export function callsFrom({ home, why }: Home): string {
  if (home === "device") return why ? `this device; the server stepped in once (${why})` : "this device";
  if (home === "server") return why ? `the server; this device cannot work them out (${why})` : "the server, until this device is ready";
  if (home === "none") return `nowhere: the server cannot be reached, and this device cannot work them out${why ? ` (${why})` : ""}`;
  return "this device, as soon as it is ready";
}

/** A quiet line that says where the calls come from. */
export function CallsFrom() {
  const now = useStore(home);
  return <p class="caption" data-calls-from={now.home}>Calls come from {callsFrom(now)}.</p>;
}
