/** What can wait until the screen shows the tap. */

const HIDDEN_MS = 100; // chosen: a page that is not shown draws no frames

/** Does something once the next frame is drawn, soon also where none is drawn; returns how to call it off. */
export function afterPaint(act: () => void): () => void {
  let due = true;
  const once = (): void => {
    if (due) act();
    due = false;
  };
  requestAnimationFrame(() => setTimeout(once));
  setTimeout(once, HIDDEN_MS);
  return () => void (due = false);
}
