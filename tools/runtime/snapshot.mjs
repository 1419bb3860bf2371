// Run by snapshot.py under Node: starts Pyodide, has the calculators imported and used once, and keeps its memory.
//
//   node snapshot.mjs PYODIDE_DIR LIBRARY_ZIP CALCULATORS_ZIP SCRIPT JOB_JSON OUT
//
// SCRIPT must define main(job_json). OUT/before.bin is the memory before Python has run, OUT/after.bin at the end; what a
// page has to know of it is printed as JSON. Clock, zone and chance stand still: the same comes out each time.
import { readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [pyodideDir, library, calculatorsZip, script, job, out] = process.argv.slice(2);
const files = { library: null, calculators: "/lib/calculators.zip" };
const MOMENT = 1.7e12;

process.on("uncaughtException", (error) => {
  console.error(String(error.message ?? error));
  process.exit(1);
});

function standStill() {
  process.env.TZ = "UTC";
  const Clock = Date;
  globalThis.Date = class extends Clock {
    constructor(...given) {
      super(...(given.length ? given : [MOMENT]));
    }
    static now = () => MOMENT;
  };
  Object.defineProperty(globalThis, "performance", { value: { now: () => 1000, timeOrigin: MOMENT, mark() {}, measure() {} } });
  crypto.getRandomValues = (array) => {
    new Uint8Array(array.buffer, array.byteOffset, array.byteLength).fill(7);
    return array;
  };
}

async function start() {
  const { loadPyodide } = await import(pathToFileURL(join(pyodideDir, "pyodide.mjs")).href);
  const { default: glue } = await import(pathToFileURL(join(pyodideDir, "pyodide.asm.mjs")).href);
  return loadPyodide({
    indexURL: resolve(pyodideDir),
    lockFileContents: { info: JSON.parse(readFileSync(join(pyodideDir, "pyodide-lock.json"), "utf8")).info, packages: {} },
    stdLibURL: resolve(library),
    jsglobals: {},
    _sysExecutable: "./this.program", // as in a page: else the path of this very file would be kept
    env: { PYTHONHASHSEED: "0" },
    stdout() {},
    stderr: (line) => console.error(line),
    async fsInit(FS) {
      FS.mkdirTree("/warm");
      FS.writeFile(files.calculators, readFileSync(calculatorsZip));
    },
    createPyodideModule(settings) {
      settings.onRuntimeInitialized = () => writeFileSync(join(out, "before.bin"), settings.HEAPU8);
      return glue(settings);
    },
  });
}

/** Fill what Python has given back with zeros: it would only be carried about. Nothing beyond its last byte in use. */
function sweep(module) {
  let top = module.HEAPU8.length;
  while (!module.HEAPU8[top - 1]) top--;
  const taken = [];
  for (let size = 1 << 22; size >= 32; size = Math.floor(size * 0.8) & ~15) {
    for (;;) {
      const place = module._malloc(size);
      if (place + size <= top) {
        taken.push([place, size]);
        continue;
      }
      module._free(place);
      break;
    }
  }
  taken.forEach(([place, size]) => module.HEAPU8.fill(0, place, place + size));
  taken.forEach(([place]) => module._free(place));
}

standStill();
const python = await start();
const { path, modules } = python.pyimport("sys");
path.append(files.calculators);
// Imported, not run as a text: for that Pyodide would read half of the library.
python.FS.writeFile("/warm/warm.py", readFileSync(script));
path.append("/warm");
python.pyimport("warm").main(job);
path.remove("/warm");
modules.pop("warm");
const calculators = python.pyimport("calculators");
const entry = calculators.begin_json ?? calculators.run_json;
const module = python._module;
const version = python.pyimport("sys").version.split(" ")[0];
const [major, minor] = version.split(".");
files.library = `/lib/python${major}${minor}.zip`;
const told = {
  entry: module.PyProxy_getPtr(entry),
  steps: Boolean(calculators.begin_json),
  marks: { progress: calculators.PROGRESS ?? "\0", early: calculators.EARLY ?? "\0" },
  python: version,
  warm: [...new Set(JSON.parse(job).map(([name]) => name))],
  files,
};
sweep(module);
writeFileSync(join(out, "after.bin"), module.HEAPU8);
console.log(JSON.stringify({ ...told, size: module.HEAPU8.length }));
