/** The engine that the app uses, and where its answers come from. */
import { createStore } from "../store/store";
import type { Engine } from "./engine";
import { remote } from "./remote";

export interface Home {
  /** Where answers come from: nowhere yet, this device, the server, or nowhere at all. */
  readonly home: "waking" | "device" | "server" | "none";
  /** Why they do not come from this device, in plain words. */
  readonly why?: string;
  /** How long the engine on this device took to start. */
  readonly startedMs?: number;
}

export const home = createStore<Home>({ home: "server" });
export const engine: Engine = remote;
