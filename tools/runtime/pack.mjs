// Run by pack.py under Node 20+: starts Pyodide and hands one job to a Python
// file inside it. Only Pyodide itself can write bytecode that Pyodide can read.
//
//   node pack.mjs PYODIDE_DIR WORK_DIR SCRIPT JOB_JSON [LIBRARY_ZIP]
//
// WORK_DIR appears inside as /work. SCRIPT must define main(job_json) -> json;
// the answer is printed. LIBRARY_ZIP replaces Pyodide's own standard library.
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [pyodideDir, workDir, script, job, libraryZip] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(join(pyodideDir, "pyodide.mjs")).href);

// Without this Node would print the megabyte-long line of the glue that threw.
process.on("uncaughtException", (error) => {
  console.error(String(error.message ?? error));
  process.exit(1);
});

const python = await loadPyodide({
  indexURL: resolve(pyodideDir),
  lockFileContents: JSON.parse(readFileSync(join(pyodideDir, "pyodide-lock.json"), "utf8")),
  ...(libraryZip && { stdLibURL: resolve(libraryZip) }),
  env: {
    PYTHONHASHSEED: "0", // the order of a set constant is written into bytecode
    PYTHONNODEBUGRANGES: "1", // column tables are a fifth of the size; lines stay
  },
});
python.mountNodeFS("/pack", resolve(workDir));
python.runPython(readFileSync(script, "utf8"), { filename: "inside.py" });
console.log(python.globals.get("main")(job));
