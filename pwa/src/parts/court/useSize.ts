import { useLayoutEffect, useRef, useState } from "preact/hooks";

export interface Size { readonly width: number; readonly height: number }

/** Returns a ref and the size of its element in CSS px, kept up to date; null before the first layout. */
export function useSize<E extends Element>() {
  const ref = useRef<E>(null);
  const [size, setSize] = useState<Size | null>(null);
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return undefined;
    const measure = (): void => {
      const { width, height } = element.getBoundingClientRect();
      setSize((old) => (old && old.width === width && old.height === height ? old : { width, height }));
    };
    measure();
    const watcher = new ResizeObserver(measure);
    watcher.observe(element);
    return () => watcher.disconnect();
  }, []);
  return { ref, size };
}
