import { useLayoutEffect, useRef } from "preact/hooks";

/** Returns a ref; while `steady`, its element never becomes lower, so that what stands below keeps its place. */
export function useSteadyHeight<E extends HTMLElement>(steady: boolean) {
  const ref = useRef<E>(null);
  useLayoutEffect(() => {
    const element = ref.current;
    if (element) element.style.minHeight = steady ? `${element.getBoundingClientRect().height}px` : "";
  });
  return ref;
}
