// Python and Graphviz in the browser: they answer a page as `wirecheck serve` does. It is all in the folder beside.

import {loadPyodide} from "../python/pyodide.js";

const HERE = new URL("../python/", import.meta.url).href;
const PROGRAM = "/program";
const BOARDS = "/boards";
const BAD_FILE = 8; // What WASI answers of a file that is not open: Graphviz has none.

// What was saved anew is not taken from what the browser keeps.
async function got(name) {
  const answer = await fetch(HERE + name, {cache: "no-cache"});
  if (!answer.ok) throw new Error(`${name}: ${answer.status}`);
  return answer.arrayBuffer();
}

// Graphviz sees no file and no other input than what it is given, and what it says beside its answer is dropped.
async function graphviz() {
  let memory = null;
  const put = (address, value) => new DataView(memory.buffer).setUint32(address, value, true);
  const get = (address) => new DataView(memory.buffer).getUint32(address, true);
  const outside = {
    environ_sizes_get: (count, size) => put(count, 0) ?? put(size, 0) ?? 0,
    environ_get: () => 0,
    clock_time_get: (clock, precision, time) => put(time, 0) ?? put(time + 4, 0) ?? 0,
    random_get: (address, size) => new Uint8Array(memory.buffer, address, size).fill(0) && 0,
    proc_exit: (status) => {
      throw new Error(`Graphviz ended with status ${status}`);
    },
    fd_write: (file, pieces, count, written) => {
      let size = 0;
      for (let piece = 0; piece < count; piece++) size += get(pieces + 8 * piece + 4);
      put(written, size);
      return 0;
    },
  };
  const module = await WebAssembly.compile(await got("graphviz.wasm"));
  const imports = {};
  for (const {module: from, name} of WebAssembly.Module.imports(module)) {
    (imports[from] ??= {})[name] = outside[name] ?? (() => BAD_FILE);
  }
  const {exports} = await WebAssembly.instantiate(module, imports);
  memory = exports.memory;
  return exports;
}

async function begun() {
  const [python, program, boards, drawing] = await Promise.all([
    loadPyodide({indexURL: HERE}), got("program.zip"), got("boards.zip"), graphviz(),
  ]);
  python.unpackArchive(program, "zip", {extractDir: PROGRAM});
  python.unpackArchive(boards, "zip", {extractDir: BOARDS});
  python.registerJsModule("graphviz_in_browser", drawing);
  python.runPython(`import sys; sys.path.insert(0, "${PROGRAM}")`);
  return python.pyimport("wirecheck.page.alone").Alone(BOARDS);
}

// The last line of what Python says of a mistake: its kind, and why.
const why = (error) => String(error.message ?? error).trim().split("\n").at(-1);

const answering = begun();
answering.then(() => postMessage({ready: true}), (error) => postMessage({absent: why(error)}));

addEventListener("message", async ({data: [address, question]}) => {
  const alone = await answering;
  try {
    postMessage({answer: await alone.answered(address, question)});
  } catch (error) {
    postMessage({failed: why(error)});
  }
});
