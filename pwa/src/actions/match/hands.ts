/** The code of our team's hands, kept with the match's team. */
import type { Fingers, Signals } from "../../api/match";
import { changeMatch } from "../../api/matches";
import { Refused } from "../../api/problem";
import { state } from "../state";
import { live, type Live } from "./live";

/** Returns the team's own code, or the starting one until the service was asked. */
export const codeOf = ({ detail }: Live): Signals | undefined => detail?.signals ?? (state.get().stock?.signals as Signals | undefined);

/** Saves the code; returns what is wrong with it in words, "" if nothing is. */
export async function saveSignals(signals: Signals): Promise<string> {
  const { id, detail } = live.get();
  if (!id) return "No match is open.";
  if (!detail) return "The server has not been reached yet. Not saved.";
  try {
    live.set({ detail: await changeMatch(id, { signals }) });
    return "";
  } catch (problem) {
    if (problem instanceof Refused) return `Not saved: it needs ${problem.faults[0]?.expected ?? "another pose"}.`;
    return "The server cannot be reached. Not saved.";
  }
}

export type Of = keyof Signals;

/** Returns the code with one pose changed; who had that pose gets the old one, so that no two look the same. */
export function withPose(code: Signals, of: Of, name: string, pose: Fingers): Signals {
  const poses = code[of] as Readonly<Record<string, Fingers>>;
  const same = (a: Fingers, b: Fingers): boolean => a.every((up, i) => up === b[i]);
  const before = poses[name] as Fingers;
  const changed = Object.fromEntries(Object.entries(poses).map(([key, old]) => [key, key === name ? pose : same(old, pose) ? before : old]));
  return { ...code, [of]: changed } as Signals;
}
