/**
 * Writes what the engine on the device runs on into public/py: node pack.mjs [another folder [another api folder]]
 *
 *   pyodide.mjs, pyodide.asm.mjs, pyodide.asm.wasm, pyodide-lock.json    Python itself
 *   python.zip                                                          of its standard library what is needed, byte-compiled
 *   cornerwise.zip                                                      the engine, byte-compiled, and its arrays on the device
 *   wake.mjs, floats.mjs                                                what starts it
 *
 * The same sources give the same bytes, and python.zip does not depend on the engine: an update fetches only what changed.
 * What is up to date is left alone.
 */
import { createHash } from "node:crypto";
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join, relative, resolve } from "node:path";

const PWA = resolve(import.meta.dirname, "..");
const ROOT = resolve(PWA, "..");
const PYODIDE = join(PWA, "node_modules", "pyodide");
const [, , given, api] = process.argv;
const API = resolve(api ?? join(ROOT, "api"));
const OUT = resolve(given ?? join(PWA, "public", "py"));
const STAMPS = given ? join(OUT, "..", "pack.json") : join(ROOT, ".build", "pack.json");
const DEVICE = join(PWA, "src", "engine", "python");
const COPIED = ["pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm"];
const STARTERS = ["wake.mjs", "floats.mjs"];
const ARRAYS = join(DEVICE, "device_arrays.py");
const ENGINE_MOUNT = "/lib/cornerwise.zip";
const PYTHON_MOUNT = "/lib/python314.zip"; // where Pyodide itself keeps its standard library

/** What Pyodide imports to start, and what the engine imports. */
const NEEDED = `
  __future__ _collections_abc _colorize _opcode_metadata _py_warnings _pyodide _sitebuiltins _weakrefset abc annotationlib ast asyncio
  base64 bisect bz2 codecs codeop collections compression concurrent/__init__ concurrent/futures contextlib contextvars copy copyreg
  dataclasses dis enum fnmatch functools genericpath glob heapq importlib inspect io json keyword linecache locale logging lzma ntpath
  opcode operator os pathlib pkgutil posixpath pyodide random re reprlib selectors shutil signal site socket ssl stat string struct
  subprocess tempfile textwrap threading token tokenize traceback types typing warnings weakref zipfile zipimport
  encodings/__init__ encodings/aliases encodings/ascii encodings/cp437 encodings/latin_1 encodings/utf_8`;

/** What plain Python may well import tomorrow: a change of the engine should not change python.zip. */
const MARGIN = `
  _strptime calendar csv datetime decimal fractions graphlib hashlib hmac numbers pprint queue statistics`;

const words = (text) => text.trim().split(/\s+/);
const filesUnder = (folder) =>
  readdirSync(folder, { recursive: true, withFileTypes: true }).filter((f) => f.isFile()).map((f) => join(f.parentPath, f.name)).sort();
const engineSources = () => [join(API, "cornerwise", "__init__.py"), ...filesUnder(join(API, "cornerwise", "engine")).filter((f) => f.endsWith(".py"))];

function hashOf(files) {
  const hash = createHash("sha256");
  for (const file of files) hash.update(`${basename(file)}\0`).update(readFileSync(file));
  return hash.digest("hex");
}

const stamps = existsSync(STAMPS) ? JSON.parse(readFileSync(STAMPS, "utf8")) : {};

/** Makes files of the folder anew unless they were made from the same inputs. */
async function step(made, inputs, make) {
  const key = join(OUT, made[0]);
  const hash = hashOf(inputs);
  if (stamps[key] === hash && made.every((name) => existsSync(join(OUT, name)))) return;
  await make();
  stamps[key] = hash;
  console.log(`packed ${made.join(", ")}`);
}

/** A Python that has done nothing yet, so that what it writes depends on its input only. */
async function freshPython(options = {}) {
  const { loadPyodide } = await import(join(PYODIDE, "pyodide.mjs"));
  const python = await loadPyodide({ env: { PYTHONHASHSEED: "0", HOME: "/tmp" }, ...options });
  python.runPython(readFileSync(join(import.meta.dirname, "pack.py"), "utf8"));
  return python;
}

const bytes = (file) => new Uint8Array(readFileSync(file)); // a Buffer is not what Pyodide takes

async function packPython() {
  const python = await freshPython();
  python.FS.writeFile("/tmp/from.zip", bytes(join(PYODIDE, "python_stdlib.zip")));
  python.globals.set("wanted", python.toPy([...words(NEEDED), ...words(MARGIN)]));
  python.runPython(`pack(kept("/tmp/from.zip", wanted), "${PYTHON_MOUNT}", "/tmp/to.zip")`);
  writeFileSync(join(OUT, "python.zip"), python.FS.readFile("/tmp/to.zip"));
}

async function packEngine() {
  const python = await freshPython();
  const sources = new Map(engineSources().map((file) => [relative(API, file), bytes(file)]));
  sources.set(basename(ARRAYS), bytes(ARRAYS));
  python.globals.set("sources", python.toPy(sources));
  python.runPython(`pack({name: data.tobytes() for name, data in sources.items()}, "${ENGINE_MOUNT}", "/tmp/to.zip")`);
  writeFileSync(join(OUT, "cornerwise.zip"), python.FS.readFile("/tmp/to.zip"));
}

/** Imports every module of the engine as the device will; throws naming the one that fails. */
async function tryOut() {
  const { loadPyodide } = await import(join(PYODIDE, "pyodide.mjs"));
  const python = await loadPyodide({ indexURL: OUT, stdLibURL: join(OUT, "python.zip") });
  python.FS.writeFile(ENGINE_MOUNT, bytes(join(OUT, "cornerwise.zip")));
  python.registerJsModule("floats", await import(join(OUT, "floats.mjs")));
  python.runPython(`
import importlib, pkgutil, sys
sys.path.insert(0, "${ENGINE_MOUNT}")
import cornerwise.engine, device_arrays
for module in pkgutil.walk_packages(cornerwise.engine.__path__, "cornerwise.engine."):
    importlib.import_module(module.name)`);
}

const OWN = [join(import.meta.dirname, "pack.mjs"), join(import.meta.dirname, "pack.py")];
const STANDARD = [...OWN, join(PYODIDE, "package.json"), join(PYODIDE, "python_stdlib.zip")];
mkdirSync(OUT, { recursive: true });
await step([...COPIED, "pyodide-lock.json"], [...OWN, ...COPIED.map((name) => join(PYODIDE, name))], () => {
  for (const name of COPIED) copyFileSync(join(PYODIDE, name), join(OUT, name));
  const { info } = JSON.parse(readFileSync(join(PYODIDE, "pyodide-lock.json"), "utf8"));
  writeFileSync(join(OUT, "pyodide-lock.json"), JSON.stringify({ info, packages: {} })); // no packages are had from anywhere
});
await step(["python.zip"], STANDARD, packPython);
await step(STARTERS, [...OWN, ...STARTERS.map((name) => join(DEVICE, name))], () => {
  for (const name of STARTERS) copyFileSync(join(DEVICE, name), join(OUT, name));
});
await step(["cornerwise.zip"], [...STANDARD, ARRAYS, ...engineSources()], async () => {
  await packEngine();
  await tryOut().catch((error) => {
    rmSync(join(OUT, "cornerwise.zip"));
    throw new Error(`the engine does not start on the device: ${String(error.message).trim().split("\n").at(-1)}`);
  });
});
mkdirSync(dirname(STAMPS), { recursive: true });
writeFileSync(STAMPS, JSON.stringify(stamps, null, 1));
