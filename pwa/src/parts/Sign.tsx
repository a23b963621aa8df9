import type { ComponentChildren } from "preact";

/** A quiet line with at most one thing to do. */
export function Sign({ children, act, onAct }: { children: ComponentChildren; act?: string; onAct?: () => void }) {
  return (
    <div class="sign" role="status">
      <p>{children}</p>
      {act && onAct && <button type="button" class="quiet" onClick={onAct}>{act}</button>}
    </div>
  );
}
