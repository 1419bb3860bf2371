// The worker that runs Python. scripts.py puts this text behind two functions, one constant, unpack.js, arrivals.js
// and the two ways to start, in one classic script that the page turns into a blob worker:
//   pyodideGlue(fetch)   -> Pyodide's module factory (pyodide.asm.mjs)
//   pyodideLoader(fetch) -> loadPyodide (pyodide.js)
//   PYODIDE_LOCK         -> a lock file without packages
// Their own parameter named `fetch` hides the global one, so nothing is patched
// and nothing can reach the network.
//
// From the page: {type: "start", parts: {asset: count}, restore, port}
//                {type: "part", asset, index, text}     gzip as text, cut up: the wasm
//                {id, name, json}                       one calculation
//                {id, stop: true}                       end it with the best so far
// By the port:   {asset, whole, end} | {asset, error}   other assets, unpacked (aside.js)
// To the page:   {type: "ready", build, python, ms} | {type: "failed", message}
//                {id, progress} or {id, early} (a JSON text each) any number of times, then
//                {id, json} | {id, error, detail}

/** @typedef {{begin: (name: string, json: string) => any, marks: {progress: string, early: string}, build: string, python: string, loaded: number}} Started
 * what begins a calculation, how texts begin that are not the last, and what this Python is */

/** @type {Started} */
let started;
/** @type {Map<number, any>} calculations under way, Python's objects */
const running = new Map();
/** Between two slices the worker hears what the page has to say. */
const SLICE_MS = 50;
/** A first answer is held back for so long: the last one may follow at once. */
const HELD_MS = 10;
/** What Python wrote to its error stream while starting. */
const complaints = [];
const PACKAGE_ZIP = "/lib/calculators.zip";

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
  plan.port.onmessage = ({ data }) => unpackedAside(data.asset).settle(data);
  listenForSwallowedErrors();
  started = await (plan.restore ? restored() : begun());
  const ms = { python: Math.round(started.loaded), calculators: Math.round(performance.now() - started.loaded) };
  self.postMessage({ type: "ready", build: started.build, python: started.python, ms });
}

/** Pyodide only warns when the wasm does not compile or the library is broken,
 * and then waits for ever. */
function listenForSwallowedErrors() {
  console.warn = console.error = (/** @type {unknown[]} */ ...words) =>
    words.filter((word) => word instanceof Error).forEach(fail);
}

/** @type {Map<string, {promise: Promise<Uint8Array>, settle: (told: any) => void}>} */
const aside = new Map();

/** An asset that the second worker unpacks, whether it is there yet or not. */
function unpackedAside(asset) {
  if (!aside.has(asset)) {
    let settle;
    const promise = new Promise((resolve, reject) => {
      settle = ({ whole, end, error }) => {
        ends[asset] = end;
        if (error) reject(new Error(`${asset}: ${error}`));
        else resolve(whole);
      };
    });
    promise.catch(() => {}); // whoever waits for it hears of it
    aside.set(asset, { promise, settle });
  }
  return aside.get(asset);
}

/** All bytes of such an asset. */
function whole(asset) {
  return unpackedAside(asset).promise;
}

/** The wasm as a response that streams: the engine compiles it while later parts are still read and unpacked. */
function wasm() {
  return new Response(stream("wasm"), { headers: { "Content-Type": "application/wasm" } });
}

function answer({ id, name, json }) {
  attempt(id, () => {
    running.set(id, started.begin(name, json));
    slice(id);
  });
}

/** Work on a calculation for a while; most come to their end in the first slice. */
function slice(id) {
  let end = performance.now() + SLICE_MS;
  let text, early;
  do {
    text = running.get(id).advance();
    if (text.startsWith(started.marks.early)) [early, end] = [text, performance.now() + HELD_MS];
    else if (!text.startsWith(started.marks.progress)) return last(id, text);
  } while (performance.now() < end);
  self.postMessage(early ? { id, early } : { id, progress: text });
  setTimeout(() => attempt(id, () => slice(id)), 0);
}

function last(id, json) {
  drop(id);
  self.postMessage({ id, json });
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
