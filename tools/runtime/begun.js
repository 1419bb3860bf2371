// Python started from nothing: it initialises itself and imports the calculators. The way of browsers in which its
// kept memory cannot be put back (restored.js), and of a handbook that carries none. scripts.py puts before it:
//   pyodideGlue(fetch)   -> Pyodide's module factory (pyodide.asm.mjs)
//   pyodideLoader(fetch) -> loadPyodide (pyodide.js)
//   PYODIDE_LOCK         -> a lock file without packages
// Their own parameter named `fetch` hides the global one, so nothing is patched
// and nothing can reach the network.

const PACKAGE_ZIP = "/lib/calculators.zip";

/** @returns {Promise<Started>} */
async function python() {
  const pyodide = await loadPyodide();
  const loaded = performance.now();
  const sys = pyodide.pyimport("sys");
  sys.path.append(PACKAGE_ZIP);
  const calculators = pyodide.pyimport("calculators");
  return {
    begin: calculators.begin_json ?? ((name, json) => inOne(() => calculators.run_json(name, json))),
    come: () => null,
    again: () => null,
    marks: { progress: calculators.PROGRESS ?? "\0", early: calculators.EARLY ?? "\0" },
    build: buildId(calculators),
    python: sys.version.split(" ")[0],
    loaded,
  };
}

function loadPyodide() {
  return pyodideLoader(fromMemory)({
    createPyodideModule: pyodideGlue(fromMemory),
    indexURL: "file:///python/", // never read: fromMemory answers or throws
    packageBaseUrl: "file:///python/",
    lockFileContents: PYODIDE_LOCK,
    fsInit: async (FS) => FS.writeFile(PACKAGE_ZIP, await whole("calculators")),
    stdout: () => {},
    stderr: (line) => complaints.push(line),
  });
}

/** Stands in for fetch. */
async function fromMemory(url) {
  const name = String(url).split("/").pop();
  if (name === "pyodide.asm.wasm") return wasm();
  if (name === "python_stdlib.zip") return new Response(await whole("library"));
  throw new Error(`Python asked for ${url}, which is not packed`);
}

/** The build that packed the calculators, read from beside their code. */
function buildId(calculators) {
  const data = calculators.__loader__.get_data(`${PACKAGE_ZIP}/calculators/_build_id.txt`);
  return new TextDecoder().decode(data.toJs());
}
