/** Starts Python and the engine in it, from a folder with the packed files. The same for the worker and for the tests under Node. */
import * as floats from "./floats.mjs";

const MOUNT = "/lib/cornerwise.zip";
const START = `
import sys
sys.path.insert(0, "${MOUNT}")
from cornerwise.engine.bridge.doors import through
from device_arrays import ARRAYS
lambda door, request: through(door, request, ARRAYS)`;

/**
 * Returns the engine as a function: the name of a door and a request in, what is said out, all as text.
 *
 * @param folder  where the packed files are, with a slash at its end
 * @param read    reads one of them, to a Uint8Array
 */
export async function wake(folder, read) {
  const engine = read("cornerwise.zip");
  const { loadPyodide } = await import(/* @vite-ignore */ `${folder}pyodide.mjs`);
  const python = await loadPyodide({ indexURL: folder, stdLibURL: `${folder}python.zip` });
  python.FS.writeFile(MOUNT, await engine);
  python.registerJsModule("floats", floats);
  return python.runPython(START);
}
