import type { Standing } from "../../api/match";
import type { Position } from "../../api/types";

/** Their half as we see it across the net, and ours as we stand behind it. */
const ROWS: Record<"us" | "them", readonly Position[]> = { them: [1, 6, 5, 2, 3, 4], us: [4, 3, 2, 5, 6, 1] };

export const DIAMOND = "M0 -6.5 L6.5 0 L0 6.5 L-6.5 0 Z";
export const Diamond = () => <svg class="diamond" viewBox="-8 -8 16 16" aria-hidden="true"><path d={DIAMOND} /></svg>;

interface Cell { readonly position: Position; readonly number: number | null; readonly setter?: boolean; readonly libero?: boolean }

/** Returns what one place says: who stands there, and what she is. */
export const cellInWords = ({ position, number, setter, libero }: Cell): string =>
  [`${position}: ${number === null ? "not known" : number}`, setter && "setter", libero && "libero"].filter(Boolean).join(", ");

function Inside({ cell }: { cell: Cell }) {
  return (
    <>
      <span class="where">{cell.position}</span>
      <span class="number">{cell.number ?? (cell.setter ? "" : "·")}</span>
      {cell.setter && <Diamond />}
      {cell.libero && <span class="mark">libero</span>}
    </>
  );
}

interface HalfProps { side: "us" | "them"; lineup: readonly Cell[]; serving?: boolean }

/** One half with its six places, small; the setter has the diamond, who serves the disc. */
export function Half({ side, lineup, serving = false }: HalfProps) {
  const words = lineup.map((cell) => cellInWords(cell)).join("; ");
  return (
    <span class={`half ${side}`} role="img" aria-label={`${side === "us" ? "Our" : "Their"} rotation. ${words}`}>
      {ROWS[side].map((position) => {
        const cell = lineup[position - 1] as Standing;
        return <span key={position} class={`cell${cell.setter ? " setter" : ""}${serving && position === 1 ? " serves" : ""}${cell.libero ? " libero" : ""}`}><Inside cell={cell} /></span>;
      })}
    </span>
  );
}

/** The same as six buttons. */
export function HalfPicker({ side, lineup, picked, label, onPick }: HalfProps & { picked: Position | null; label: string; onPick: (position: Position) => void }) {
  return (
    <div class={`half big ${side}`} role="group" aria-label={label}>
      {ROWS[side].map((position) => {
        const cell = lineup[position - 1] as Cell;
        return (
          <button
            key={position} type="button" class={`cell${cell.setter ? " setter" : ""}`} aria-pressed={picked === position}
            aria-label={cellInWords(cell)} onClick={() => onPick(position)}
          >
            <Inside cell={cell} />
          </button>
        );
      })}
    </div>
  );
}
