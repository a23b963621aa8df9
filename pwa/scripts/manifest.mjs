// @ts-check
/**
 * What a phone keeps of the app: the list of its files with their hashes at the head of sw.js, and smaller copies for the wire.
 *
 *     node pwa/scripts/manifest.mjs FOLDER    makes both anew, after a change of the files in FOLDER
 */
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join, relative, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";

/** @typedef {Record<string, readonly [hash: string, bytes: number]>} Files */

const WORKER = "sw.js";
const HEAD = /^const VERSION=.*;\n/;
const SQUEEZED = ["assets/", "py/"]; // never index.html or sw.js: a copy left behind would hide an update
const WORTH_IT = 0.95; // chosen: a copy that saves less than a twentieth, as of a zip, is not worth its room
const SLOW_BYTES = 1_000_000; // chosen: from here on a copy takes long enough to be kept between builds
const KEPT_COPIES = fileURLToPath(new URL("../../.build/gz", import.meta.url));

/** @param {string | Buffer} data */
const sha256 = (data) => createHash("sha256").update(data).digest("hex");

/** Returns the paths of the app's files below a folder, without the worker, copies and source maps. @param {string} folder */
const pathsIn = (folder) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((file) => file.isFile())
    .map((file) => relative(folder, join(file.parentPath, file.name)).split(sep).join("/"))
    .filter((path) => path !== WORKER && !/\.(gz|map)$/.test(path))
    .sort();

/** Returns each file's SHA-256 and size. @param {string} folder @returns {Files} */
export const filesOf = (folder) =>
  Object.fromEntries(pathsIn(folder).map((path) => {
    const data = readFileSync(join(folder, path));
    return [path, /** @type {const} */ ([sha256(data), data.length])];
  }));

/** Writes the list to the head of the folder's sw.js; the version changes with any file and with the worker itself. @param {string} folder */
export function stamp(folder) {
  const worker = join(folder, WORKER);
  const code = readFileSync(worker, "utf8").replace(HEAD, "");
  const files = filesOf(folder);
  const version = sha256(JSON.stringify(files) + code).slice(0, 16);
  writeFileSync(worker, `const VERSION=${JSON.stringify(version)},FILES=${JSON.stringify(files)};\n${code}`);
  return { version, files };
}

/** Returns the gzip copy of a file; of a large one it is made once. @param {Buffer} data */
function squeezed(data) {
  if (data.length < SLOW_BYTES) return gzipSync(data, { level: 9 });
  const kept = join(KEPT_COPIES, sha256(data));
  if (!existsSync(kept)) {
    mkdirSync(KEPT_COPIES, { recursive: true });
    const unfinished = `${kept}.${process.pid}`;
    writeFileSync(unfinished, gzipSync(data, { level: 9 }));
    renameSync(unfinished, kept); // another build never sees half of it
  }
  return readFileSync(kept);
}

/** Writes a gzip copy beside each file whose content goes with its name or the list, where it helps. @param {string} folder */
export function squeeze(folder) {
  for (const path of pathsIn(folder).filter((path) => SQUEEZED.some((start) => path.startsWith(start)))) {
    const data = readFileSync(join(folder, path));
    const copy = squeezed(data);
    if (copy.length < WORTH_IT * data.length) writeFileSync(join(folder, `${path}.gz`), copy);
    else rmSync(join(folder, `${path}.gz`), { force: true });
  }
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) {
  const folder = process.argv[2];
  if (!folder || !existsSync(join(folder, WORKER))) {
    console.error(`usage: node manifest.mjs FOLDER, a folder with ${WORKER} in it; got ${folder ?? "nothing"}`);
    process.exit(1);
  }
  squeeze(folder);
  console.log(stamp(folder).version);
}
