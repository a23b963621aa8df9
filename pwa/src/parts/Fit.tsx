import { useLayoutEffect, useRef } from "preact/hooks";

/** One line of text, squeezed sideways where it would not fit. Its height stays. */
export function Fit({ text, class: name = "" }: { text: string; class?: string }) {
  const ref = useRef<HTMLSpanElement>(null);
  useLayoutEffect(() => {
    const inner = ref.current;
    const outer = inner?.parentElement;
    if (!inner || !outer) return undefined;
    const fit = (): void => {
      const room = outer.clientWidth / inner.offsetWidth;
      inner.style.transform = room < 1 ? `scaleX(${room})` : "";
    };
    fit();
    const watcher = new ResizeObserver(fit);
    watcher.observe(outer);
    return () => watcher.disconnect();
  }, [text]);
  return <span class={`fit ${name}`}><span ref={ref}>{text}</span></span>;
}
