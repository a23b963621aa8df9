import { encodeQR, type QrOpts } from "qr";
import { useMemo } from "preact/hooks";

const QUIET = 4; // modules around a code: ISO/IEC 18004, 9.1

/** A QR code, black on white whatever the scheme, in its quiet zone; as wide as there is room. */
export function QrCode({ text, label, options }: { text: string; label: string; options?: QrOpts }) {
  const code = useMemo(() => encodeQR(text, "raw", { border: QUIET, ...options }), [text, options]);
  return (
    <svg class="qr" role="img" aria-label={label} viewBox={`0 0 ${code.length} ${code.length}`} shape-rendering="crispEdges" data-text={text}>
      <rect width={code.length} height={code.length} />
      <path d={pathOf(code)} />
    </svg>
  );
}

/** Returns the dark modules as one path, a rectangle for each run in a row. */
function pathOf(code: readonly (readonly boolean[])[]): string {
  return code.map((row, y) => {
    let path = "";
    for (let x = 0; x < row.length; x += 1) {
      if (!row[x]) continue;
      let end = x;
      while (row[end]) end += 1;
      path += `M${x} ${y}h${end - x}v1h${x - end}z`;
      x = end;
    }
    return path;
  }).join("");
}
