import { useLayoutEffect, useRef } from "preact/hooks";

/** Returns a ref; while `still`, its element keeps its place in the window when what stands above it grows: the page is scrolled by as much. */
export function useStill<E extends HTMLElement>(still: boolean) {
  const ref = useRef<E>(null);
  const top = (): number | undefined => ref.current?.getBoundingClientRect().top;
  const before = still ? top() : undefined; // as it was drawn last
  useLayoutEffect(() => {
    const after = top();
    if (before !== undefined && after !== undefined && after !== before) scrollBy(0, after - before);
  });
  return ref;
}
