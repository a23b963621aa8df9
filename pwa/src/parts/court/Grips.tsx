/** What can be taken hold of: by finger or mouse, or by keyboard with the arrow keys. */
import { useRef } from "preact/hooks";
import type { Limits, Point } from "../../api/types";
import type { Plan, Px } from "./frame";
import { within } from "./curves";

export interface Grip {
  readonly key: string;
  readonly name: string;
  readonly place: Point;
  /** Where it may go, and who or what holds it on each side. */
  readonly limits: Limits & { readonly by?: Readonly<Record<keyof Limits, string>> };
}

export const STEP_M = 0.25; // chosen: one arrow key, a foot's length
const REACH = 24;
const DRAG_FROM = 5;

interface GripsProps {
  frame: Plan;
  grips: readonly Grip[];
  held: string | null;
  inWords: (place: Point) => string;
  hint: string;
  onHold: (key: string | null) => void;
  onMove: (key: string, to: Point) => void;
}

const ARROWS: Record<string, readonly [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** Returns a place one step away, as seen in the picture, inside the limits. */
export function stepped(grip: Grip, [right, up]: readonly [number, number], turned: boolean, step_m = STEP_M): Point {
  const sign = turned ? -1 : 1;
  const { x_m, y_m } = grip.place;
  return within({ x_m: x_m + sign * right * step_m, y_m: y_m + sign * up * step_m }, grip.limits);
}

const apart = (a: Px, b: Px): number => Math.hypot(a.x - b.x, a.y - b.y);

export function Grips({ frame, grips, held, inWords, hint, onHold, onMove }: GripsProps) {
  const drag = useRef<{ key: string; from: Px; offset: Px; moving: boolean } | null>(null);
  const local = (event: PointerEvent): Px => {
    const box = (event.currentTarget as Element).closest("svg")?.getBoundingClientRect();
    return { x: event.clientX - (box?.left ?? 0), y: event.clientY - (box?.top ?? 0) };
  };
  const take = (event: PointerEvent): void => {
    const at = local(event);
    const near = [...grips].sort((a, b) => apart(frame.at(a.place), at) - apart(frame.at(b.place), at))[0];
    if (!near || event.button !== 0) return;
    const centre = frame.at(near.place);
    drag.current = { key: near.key, from: at, offset: { x: centre.x - at.x, y: centre.y - at.y }, moving: false };
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
    onHold(near.key);
  };
  const pull = (event: PointerEvent): void => {
    const now = drag.current;
    const grip = grips.find(({ key }) => key === now?.key);
    if (!now || !grip) return;
    const at = local(event);
    now.moving ||= apart(at, now.from) > DRAG_FROM;
    if (now.moving) onMove(grip.key, within(frame.back({ x: at.x + now.offset.x, y: at.y + now.offset.y }), grip.limits));
  };
  const release = (): void => void (drag.current = null);
  const press = (event: KeyboardEvent, grip: Grip): void => {
    const arrow = ARROWS[event.key];
    if (event.key === "Escape") onHold(null);
    if (event.key === "Enter" || event.key === " ") onHold(held === grip.key ? null : grip.key);
    if (arrow) {
      onHold(grip.key);
      onMove(grip.key, stepped(grip, arrow, frame.turned, event.shiftKey ? 4 * STEP_M : STEP_M));
    }
    if (arrow || event.key === "Enter" || event.key === " ") event.preventDefault();
  };
  return (
    <g class="grips">
      {grips.map((grip) => {
        const { x, y } = frame.at(grip.place);
        return (
          <g
            key={grip.key} role="button" tabindex={0} class="grip" data-grip={grip.key} aria-pressed={held === grip.key}
            aria-label={`${grip.name}: ${inWords(grip.place)}`} aria-describedby={hint}
            onPointerDown={take} onPointerMove={pull} onPointerUp={release} onPointerCancel={release}
            onKeyDown={(event) => press(event, grip)}
          >
            <circle class="touch" cx={x} cy={y} r={REACH} />
            <circle class="focus" cx={x} cy={y} r="18" />
          </g>
        );
      })}
    </g>
  );
}
