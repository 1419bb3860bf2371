// The worker that runs Python. scripts.py puts this text behind two functions, one
// constant and unpack.js, in one classic script that the page turns into a blob worker:
//   pyodideGlue(fetch)   -> Pyodide's module factory (pyodide.asm.mjs)
//   pyodideLoader(fetch) -> loadPyodide (pyodide.js)
//   PYODIDE_LOCK         -> a lock file without packages
// Their own parameter named `fetch` hides the global one, so nothing is patched
// and nothing can reach the network.
//
// From the page: {type: "start", parts: {asset: count}}
//                {type: "part", asset, index, text}     gzip as text, cut up
//                {id, name, json}                       one calculation
//                {id, stop: true}                       end it with the best so far
// To the page:   {type: "ready", build, python, ms} | {type: "failed", message}
//                {id, progress} (a JSON text) any number of times, then
//                {id, json} | {id, error, detail}

const ASSETS = {
  "pyodide.asm.wasm": ["wasm", "application/wasm"],
  "python_stdlib.zip": ["library", "application/zip"],
};
const PACKAGE_ZIP = "/lib/calculators.zip";

/** @type {Record<string, number>} how many parts each asset has */
let parts = {};
/** @type {Map<string, {promise: Promise<string>, arrive: (text: string) => void}>} */
const slots = new Map();
/** @type {(name: string, json: string) => any} */
let beginJson;
/** @type {string} how a text of progress begins */
let progressMark;
/** @type {Map<number, any>} calculations under way, Python's objects */
const running = new Map();
/** Between two slices the worker hears what the page has to say. */
const SLICE_MS = 50;
/** What Python wrote to its error stream while starting. */
const complaints = [];

self.onmessage = ({ data }) => {
  if (data.type === "part") slot(data.asset, data.index).arrive(data.text);
  else if (data.type === "start") start(data).catch(fail);
  else if (data.stop) running.get(data.id)?.stop();
  else answer(data);
};

/** @param {unknown} error */
function fail(error) {
  const message = [error instanceof Error ? error.message : String(error), ...complaints];
  self.postMessage({ type: "failed", message: message.join("\n") });
}

async function start(plan) {
  parts = plan.parts;
  listenForSwallowedErrors();
  const python = await loadPyodide();
  const loaded = performance.now();
  python.pyimport("sys").path.append(PACKAGE_ZIP);
  const calculators = python.pyimport("calculators");
  beginJson = calculators.begin_json ?? ((name, json) => inOne(() => calculators.run_json(name, json)));
  progressMark = calculators.PROGRESS ?? "\0";
  const ms = { python: Math.round(loaded), calculators: Math.round(performance.now() - loaded) };
  self.postMessage({ type: "ready", build: buildId(calculators), python: version(python), ms });
}

/** Pyodide only warns when the wasm does not compile or the library is broken,
 * and then waits for ever. */
function listenForSwallowedErrors() {
  console.warn = console.error = (/** @type {unknown[]} */ ...words) =>
    words.filter((word) => word instanceof Error).forEach(fail);
}

function loadPyodide() {
  return pyodideLoader(fromMemory)({
    createPyodideModule: pyodideGlue(fromMemory),
    indexURL: "file:///python/", // never read: fromMemory answers or throws
    packageBaseUrl: "file:///python/",
    lockFileContents: PYODIDE_LOCK,
    fsInit: async (FS) => FS.writeFile(PACKAGE_ZIP, await bytes("calculators")),
    stdout: () => {},
    stderr: (line) => complaints.push(line),
  });
}

/** Stands in for fetch. A response that streams lets the engine compile the wasm
 * while its later parts are still being read and unpacked. */
async function fromMemory(url) {
  const asset = ASSETS[String(url).split("/").pop()];
  if (!asset) throw new Error(`Python asked for ${url}, which is not packed`);
  return new Response(stream(asset[0]), { headers: { "Content-Type": asset[1] } });
}

async function bytes(asset) {
  return new Uint8Array(await new Response(stream(asset)).arrayBuffer());
}

/** A stream of the asset's bytes. */
function stream(asset) {
  let index = 0;
  return unpacked(async () => (index === parts[asset] ? null : take(asset, index++)));
}

/** Parts come in any order, before or after someone waits for them. */
function slot(asset, index) {
  const key = `${asset}-${index}`;
  if (!slots.has(key)) {
    let arrive;
    const promise = new Promise((resolve) => (arrive = resolve));
    slots.set(key, { promise, arrive });
  }
  return slots.get(key);
}

async function take(asset, index) {
  const text = await slot(asset, index).promise;
  slots.delete(`${asset}-${index}`); // megabytes
  return text;
}

/** The build that packed the calculators, read from beside their code. */
function buildId(calculators) {
  const data = calculators.__loader__.get_data(`${PACKAGE_ZIP}/calculators/_build_id.txt`);
  return new TextDecoder().decode(data.toJs());
}

function version(python) {
  return python.pyimport("sys").version.split(" ")[0];
}

/** A calculation that has no steps. */
function inOne(advance) {
  return { advance, stop() {}, destroy() {} };
}

function answer({ id, name, json }) {
  attempt(id, () => {
    running.set(id, beginJson(name, json));
    slice(id);
  });
}

/** Work on a calculation for a while; most come to their end in the first slice. */
function slice(id) {
  const end = performance.now() + SLICE_MS;
  let text;
  do text = running.get(id).advance();
  while (text.startsWith(progressMark) && performance.now() < end);
  if (text.startsWith(progressMark)) {
    self.postMessage({ id, progress: text });
    setTimeout(() => attempt(id, () => slice(id)), 0);
  } else {
    drop(id);
    self.postMessage({ id, json: text });
  }
}

function drop(id) {
  running.get(id)?.destroy();
  running.delete(id);
}

/** @param {number} id @param {() => void} work */
function attempt(id, work) {
  try {
    work();
  } catch (error) {
    drop(id);
    // Pyodide's message is the whole traceback; its last line is for people.
    const detail = String(error.message).trim();
    self.postMessage({ id, error: detail.split("\n").pop(), detail });
  }
}
