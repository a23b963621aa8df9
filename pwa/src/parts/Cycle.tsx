export interface CycleProps<T> {
  /** What the values are; read out before the value. */
  caption: string;
  /** More about a value, beside the caption. */
  note?: (value: T) => string;
  values: readonly T[];
  value: T;
  name: (value: T) => string;
  onPick: (value: T) => void;
  /** Shown as dots: how many values there are and which one this is. */
  dots?: boolean;
}

/** A button that steps through a few values, one tap each. */
export function Cycle<T>({ caption, values, value, name, onPick, note, dots = true }: CycleProps<T>) {
  const at = values.indexOf(value);
  const next = values[(at + 1) % values.length];
  if (next === undefined) return null;
  return (
    <button type="button" class="cycle" onClick={() => onPick(next)}>
      <span class="caption">{[caption, note?.(value)].filter(Boolean).join(", ")}</span>
      <span class="value">{name(value)}</span>
      {values.length > 1 && <span class="unseen">, change to {[name(next), note?.(next)].filter(Boolean).join(", ")}</span>}
      {dots && values.length > 1 && (
        <span class="dots" aria-hidden="true">
          {values.map((_, i) => <i key={i} class={i === at ? "on" : ""} />)}
        </span>
      )}
    </button>
  );
}
