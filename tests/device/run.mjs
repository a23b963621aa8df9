/**
 * The engine on the device's Python, for tests: `node run.mjs FOLDER` with FOLDER the very files that the device gets.
 * Reads lines of JSON, {door, request}; writes for each a line: {answer}, {refused}, or {failed: what}.
 */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { createInterface } from "node:readline";

const folder = `${resolve(process.argv[2])}/`;
const { wake } = await import(`${folder}wake.mjs`);
const through = await wake(folder, async (name) => new Uint8Array(readFileSync(folder + name)));

for await (const line of createInterface({ input: process.stdin })) {
  const { door, request } = JSON.parse(line);
  const began = performance.now();
  let said;
  try {
    said = through(door, JSON.stringify(request));
  } catch (problem) {
    said = JSON.stringify({ failed: String(problem.message ?? problem).trim().split("\n").at(-1) });
  }
  process.stdout.write(`${said.slice(0, -1)},"took_ms":${(performance.now() - began).toFixed(1)}}\n`);
}
