import type { CeilingStep, Policy } from "../api/types";
import { of100, signed } from "./units";

/** Returns the nearest steps to either side of the ceiling in force; null in a step means no ceiling. */
export function neighbours({ error_ceiling, steps }: Policy): { safer: CeilingStep | undefined; bolder: CeilingStep | undefined } {
  const height = (ceiling: number | null): number => ceiling ?? Infinity;
  const now = height(error_ceiling);
  return {
    safer: steps.findLast((step) => step.met && height(step.error_ceiling) < now),
    bolder: steps.find((step) => height(step.error_ceiling) > now),
  };
}

const inWords = (ceiling: number | null): string => (ceiling === null ? "any number" : `${of100(ceiling)} of 100`);

const worth = (points: number): string => (Number(points.toFixed(1)) === 0 ? "as good" : `${signed(points)} in 100`);

/** Bolder or safer by one tap, with what that gains or costs. */
export function Ceiling({ policy, onPick }: { policy: Policy; onPick: (ceiling: number | null) => void }) {
  const { safer, bolder } = neighbours(policy);
  const button = (word: string, step: CeilingStep | undefined) => (
    <button type="button" class={word.toLowerCase()} disabled={!step} onClick={() => step && onPick(step.error_ceiling)}>
      <span class="value">{word}</span>
      <span class="caption">{step ? worth(step.points_per_100) : "no further"}</span>
      {step && <span class="unseen">, {inWords(step.error_ceiling)} may miss</span>}
    </button>
  );
  return (
    <div class="ceiling" role="group" aria-label="Error ceiling">
      {button("Safer", safer)}
      <p><span class="caption">may miss</span> <span class="value">{inWords(policy.error_ceiling)}</span></p>
      {button("Bolder", bolder)}
    </div>
  );
}
