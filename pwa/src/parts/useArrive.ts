import { useEffect, useRef } from "preact/hooks";

/** Returns a ref for the heading of what has just come up: the keyboard and the screen reader go on from there. */
export function useArrive() {
  const ref = useRef<HTMLHeadingElement>(null);
  useEffect(() => ref.current?.focus({ preventScroll: true }), []);
  return ref;
}
