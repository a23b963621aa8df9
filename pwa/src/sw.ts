/**
 * Keeps the whole app on this device and serves one version of it, never a mix.
 *
 * A version is a cache with all its files, each checked against the hash that the build wrote down, and their list. It is complete or it
 * is not used. The version that is served is the one that the coach accepted, also after a restart that made a newer worker the active one.
 */
declare const self: ServiceWorkerGlobalScope;
/** Put at the head of the built file: see scripts/manifest.mjs. */
declare const VERSION: string;
declare const FILES: Files;

type Files = Readonly<Record<string, readonly [hash: string, bytes: number]>>;
interface Version { readonly name: string; readonly cache: Cache; readonly files: Files }

const PREFIX = "version-";
const ACCEPTED = "accepted"; // a cache with one entry: the name of the version that is served
const LIST = "/files";
const SERVERS = /^\/(api|healthz)(\/|$)/; // what only the server can answer is never kept

const urlOf = (path: string): string => new URL(path, self.registration.scope).href;
const keyOf = (path: string, hash: string): string => `${urlOf(path)}?v=${hash}`;
const othersThan = async (...names: string[]): Promise<string[]> =>
  (await caches.keys()).filter((key) => key.startsWith(PREFIX) && !names.includes(key.slice(PREFIX.length)));

async function sha256(body: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Fetches a file and returns it if it is the one that the build listed: not another version's, not a login page of the hall's network. */
async function fetched(path: string, hash: string): Promise<Response> {
  const modes: RequestCache[] = path.startsWith("assets/") ? ["default", "reload"] : ["no-cache", "reload"];
  let why = "";
  for (const cache of modes) {
    const response = await fetch(urlOf(path), { cache, credentials: "same-origin" });
    const body = await response.arrayBuffer();
    if (response.ok && !response.redirected && (await sha256(body)) === hash) {
      const headers = new Headers(response.headers);
      for (const name of ["content-encoding", "content-length", "vary"]) headers.delete(name); // the body is plain by now
      return new Response(body, { headers });
    }
    why = response.ok ? "other content than listed" : `status ${response.status}`;
  }
  throw new Error(`${path}: ${why}`);
}

async function tell(message: object, includeUncontrolled = false): Promise<void> {
  for (const client of await self.clients.matchAll({ type: "window", includeUncontrolled })) client.postMessage(message);
}

/** Brings all files of this version here: unchanged ones from the versions that are here, the others from the server. */
async function install(): Promise<void> {
  const cache = await caches.open(PREFIX + VERSION);
  const older = await Promise.all((await othersThan(VERSION)).map((name) => caches.open(name)));
  const all = Object.values(FILES).reduce((sum, [, bytes]) => sum + bytes, 0);
  let kept = 0;
  for (const [path, [hash, bytes]] of Object.entries(FILES)) {
    const key = keyOf(path, hash);
    if (!(await cache.match(key))) await cache.put(key, (await firstOf(older, key)) ?? (await fetched(path, hash)));
    kept += bytes;
    await tell({ type: "getting", kept, all }, true);
  }
  await cache.put(LIST, Response.json(FILES));
  if (!(await isWhole(await mine()))) throw new Error("some files are gone again"); // cleared while we worked
}

async function firstOf(older: readonly Cache[], key: string): Promise<Response | undefined> {
  for (const cache of older) {
    const hit = await cache.match(key);
    if (hit) return hit;
  }
  return undefined;
}

const mine = async (): Promise<Version> => ({ name: VERSION, cache: await caches.open(PREFIX + VERSION), files: FILES });

async function isWhole({ cache, files }: Version): Promise<boolean> {
  const keys = new Set((await cache.keys()).map(({ url }) => url));
  return Object.entries(files).every(([path, [hash]]) => keys.has(keyOf(path, hash)));
}

const accepted = async (): Promise<string | undefined> => (await (await caches.open(ACCEPTED)).match("/"))?.text();

/** Returns the version that the coach accepted; this worker's own if that is not here any more. */
async function findServed(): Promise<Version> {
  const name = (await accepted()) ?? VERSION;
  if (name === VERSION || !(await caches.has(PREFIX + name))) return mine();
  const cache = await caches.open(PREFIX + name);
  const list = await cache.match(LIST);
  return list ? { name, cache, files: (await list.json()) as Files } : mine();
}

let found: Promise<Version> | undefined;
const served = (): Promise<Version> => (found ??= findServed());

async function activate(): Promise<void> {
  const name = await accepted();
  if (name === undefined) await serveMine();
  if (!self.registration.installing) { // a newer one may be filling its cache
    for (const key of await othersThan(VERSION, name ?? VERSION)) await caches.delete(key);
  }
  await self.clients.claim();
  if (name === VERSION) await tell({ type: "changed" });
}

async function serveMine(): Promise<void> {
  await (await caches.open(ACCEPTED)).put("/", new Response(VERSION));
  found = undefined;
}

/** The coach said yes: all tabs go over to this version together. */
async function accept(): Promise<void> {
  const waits = self.registration.waiting !== null; // then it is this worker: the page asks the newest
  await serveMine();
  if (waits) return self.skipWaiting();
  for (const key of await othersThan(VERSION)) await caches.delete(key);
  await tell({ type: "changed" });
}

/** Returns whether everything is here, and whether a newer version than the served one waits behind this worker. */
async function standing(): Promise<object> {
  found = undefined;
  const version = await served();
  return { whole: await isWhole(version), newer: version.name !== VERSION };
}

/** Serves a file of the accepted version; one that was cleared is fetched again if the server still has it. */
async function answer(request: Request, path: string): Promise<Response> {
  const { cache, files } = await served();
  const [hash] = Object.hasOwn(files, path) ? (files[path] ?? []) : [];
  if (hash === undefined) return fetch(request);
  const key = keyOf(path, hash);
  const hit = await cache.match(key);
  if (hit) return hit;
  try {
    const again = await fetched(path, hash);
    await cache.put(key, again.clone());
    return again;
  } catch {
    return fetch(request);
  }
}

/** An install that fails leaves what it has for the next try, or nothing where there is no room for it; the version in use stays. */
async function installOrSayWhy(): Promise<void> {
  try {
    await install();
  } catch (problem) {
    const full = problem instanceof DOMException && problem.name === "QuotaExceededError";
    if (full) await caches.delete(PREFIX + VERSION);
    await tell({ type: "stopped", full }, true);
    throw problem;
  }
}

self.addEventListener("install", (event) => event.waitUntil(installOrSayWhy()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => {
  if (event.data === "accept") event.waitUntil(accept());
  if (event.data === "standing") event.waitUntil(standing().then((now) => event.ports[0]?.postMessage(now)));
});
self.addEventListener("fetch", (event) => {
  const { origin, pathname } = new URL(event.request.url);
  if (event.request.method !== "GET" || origin !== self.location.origin || SERVERS.test(pathname)) return;
  const place = event.request.mode === "navigate" && !/\.[^/]*$/.test(pathname); // an address inside the app has no dot
  event.respondWith(answer(event.request, place ? "index.html" : pathname.slice(1)));
});

export {};
