import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

const css = readFileSync(join(import.meta.dirname, "tokens.css"), "utf8");
const [light, dark] = css.split("@media") as [string, string];

const tokens = (part: string): Map<string, string> => new Map([...part.matchAll(/--([a-z]+): (#[0-9a-f]{6})/g)].map(([, name, hex]) => [name ?? "", hex ?? ""]));

/** Relative luminance and contrast ratio as WCAG 2.2 defines them. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((i) => parseInt(hex.slice(i, i + 2), 16) / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

test("black on white is 21 to 1", () => expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 9));

test.each([["light", light], ["dark", dark]])("%s: ink 7:1, quiet words 4.5:1, serve and pass 4.5:1, on both grounds", (_, part) => {
  const token = tokens(part);
  for (const ground of ["ground", "raised"]) {
    const against = (name: string): number => contrast(token.get(name) as string, token.get(ground) as string);
    expect(against("ink")).toBeGreaterThanOrEqual(7);
    for (const name of ["quiet", "serve", "pass"]) expect(against(name)).toBeGreaterThanOrEqual(4.5);
  }
});
