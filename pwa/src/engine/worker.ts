/// <reference lib="webworker" />
/** The engine on this device: Python in a worker of its own, so that the page never waits. One text in, one text out. */
import type { Asked, Said } from "./device";

type Through = (door: string, request: string) => string;
type Wake = (folder: string, read: (name: string) => Promise<Uint8Array>) => Promise<Through>;

const FILES = `${location.origin}${import.meta.env.BASE_URL}py/`;

async function read(name: string): Promise<Uint8Array> {
  const response = await fetch(FILES + name);
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  return new Uint8Array(await response.arrayBuffer());
}

const say = (said: Said): void => self.postMessage(said);
const inWords = (problem: unknown): string => String(problem instanceof Error ? problem.message : problem).trim().split("\n").at(-1) ?? "";

const awake = import(/* @vite-ignore */ `${FILES}wake.mjs`).then(({ wake }: { wake: Wake }) => wake(FILES, read));
awake.then(() => say({ awake: true }), (problem: unknown) => say({ awake: false, why: inWords(problem) }));

self.onmessage = async ({ data: { id, door, request } }: MessageEvent<Asked>) => {
  try {
    const through = await awake;
    say({ id, ...(JSON.parse(through(door, JSON.stringify(request))) as { answer: unknown }) });
  } catch (problem) {
    say({ id, failed: inWords(problem) });
  }
};
