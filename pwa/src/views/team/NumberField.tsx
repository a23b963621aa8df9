import { useState } from "preact/hooks";

interface Props { label: string; value: number | null; placeholder?: string; whole?: boolean; min?: number; max?: number; required?: boolean; onNumber: (value: number | null) => void }

/** A number to type, empty for none: what was typed stays as it was typed. */
export function NumberField({ label, value, placeholder, whole = false, min, max, required = false, onNumber }: Props) {
  const [text, setText] = useState(value === null ? "" : String(value));
  const type = (typed: string): void => {
    setText(typed);
    onNumber(typed === "" ? null : Number(typed));
  };
  return (
    <label class="field">{label}
      <input type="number" inputMode={whole ? "numeric" : "decimal"} step={whole ? 1 : "any"} min={min} max={max} required={required} placeholder={placeholder} value={text} onInput={(event) => type(event.currentTarget.value)} />
    </label>
  );
}
