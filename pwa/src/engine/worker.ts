/// <reference lib="webworker" />
/** The engine on this device: Python in a worker of its own, so that the page never waits. One text in, one text out. */
import type { Asked, Said } from "./device";

interface Python {
  readonly FS: { writeFile(path: string, data: Uint8Array): void };
  runPython(code: string): unknown;
}
type LoadPyodide = (options: { indexURL: string; stdLibURL: string }) => Promise<Python>;
type Through = (door: string, request: string) => string;

const FILES = `${location.origin}${import.meta.env.BASE_URL}py/`;
const MOUNT = "/lib/cornerwise.zip";

async function bytesOf(name: string): Promise<Uint8Array> {
  const response = await fetch(FILES + name);
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  return new Uint8Array(await response.arrayBuffer());
}

async function wake(): Promise<Through> {
  const engine = bytesOf("cornerwise.zip");
  const { loadPyodide } = (await import(/* @vite-ignore */ `${FILES}pyodide.mjs`)) as { loadPyodide: LoadPyodide };
  const python = await loadPyodide({ indexURL: FILES, stdLibURL: `${FILES}python.zip` });
  python.FS.writeFile(MOUNT, await engine);
  return python.runPython(`import sys; sys.path.insert(0, "${MOUNT}"); from cornerwise.engine.bridge.doors import through; through`) as Through;
}

const say = (said: Said): void => self.postMessage(said);
const inWords = (problem: unknown): string => String(problem instanceof Error ? problem.message : problem).trim().split("\n").at(-1) ?? "";

const awake = wake();
awake.then(() => say({ awake: true }), (problem: unknown) => say({ awake: false, why: inWords(problem) }));

self.onmessage = async ({ data: { id, door, request } }: MessageEvent<Asked>) => {
  try {
    const through = await awake;
    say({ id, ...(JSON.parse(through(door, JSON.stringify(request))) as { answer: unknown }) });
  } catch (problem) {
    say({ id, failed: inWords(problem) });
  }
};
