import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";

/** A sheet over the screen, at the thumb; Escape and a tap beside it close it. */
export function Sheet({ title, onClose, children }: { title: string; onClose: () => void; children: ComponentChildren }) {
  const ref = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const dialog = ref.current;
    if (dialog && !dialog.open) dialog.showModal();
  }, []);
  return (
    <dialog
      ref={ref} class="sheet" aria-label={title} onClose={onClose}
      onClick={(event) => event.target === ref.current && onClose()}
    >
      <div class="inside">
        <header><h2>{title}</h2><button type="button" class="quiet" onClick={onClose}>Close</button></header>
        {children}
      </div>
    </dialog>
  );
}
