/**
 * The engine on the device's Python, for tests: `node run.mjs FOLDER` with FOLDER the very files that the device gets.
 * Reads lines of JSON, {door, request}; writes for each a line: {answer}, {refused}, or {failed: what}.
 */
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { createInterface } from "node:readline";

const MOUNT = "/lib/cornerwise.zip";
const folder = resolve(process.argv[2]);
const { loadPyodide } = await import(join(folder, "pyodide.mjs"));
const python = await loadPyodide({ indexURL: folder, stdLibURL: join(folder, "python.zip") });
python.FS.writeFile(MOUNT, new Uint8Array(readFileSync(join(folder, "cornerwise.zip"))));
const through = python.runPython(`import sys; sys.path.insert(0, "${MOUNT}"); from cornerwise.engine.bridge.doors import through; through`);

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
