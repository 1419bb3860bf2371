// The worker that runs Python. scripts.py puts this text behind unpack.js, arrivals.js and one of two ways to start,
// each of which defines python(), in one classic script that the page turns into a blob worker: Python's memory put
// back (restored.js, with machine.js), or Python started from nothing (begun.js, with Pyodide's own scripts).
//
// From the page: {type: "start", parts: {asset: count}, port}
//                {type: "part", asset, index, text}     gzip as text, cut up: the wasm
//                {id, name, json}                       one calculation
//                {id, stop: true}                       end it with the best so far
// By the port:   {asset, whole, end} | {asset, error}   other assets, unpacked (aside.js)
// To the page:   {type: "ready", build, python, ms} | {type: "failed", message}
//                {type: "wants"}                        the files that may come later are needed now
//                {id, progress} or {id, early} (a JSON text each) any number of times, then
//                {id, json} | {id, error, detail}

/** @typedef {{begin: (name: string, json: string) => Steps, come: (name: string) => Promise<void> | null,
 *   again: (error: Error) => Promise<void> | null, marks: {progress: string, early: string},
 *   build: string, python: string, loaded: number}} Started
 * begin: begins a calculation; come: what it has to wait for, if anything; again: after an error, null where Python is as
 * it was. Where it is a new one, what was under way has to begin anew: at once that which met the error, when the promise
 * is kept, or never.
 * marks: how texts begin that are not the last
 * @typedef {{advance: () => string, stop: () => void, destroy: () => void}} Steps */

/** @type {Started} */
let started;
/** @type {Promise<void>} */
let begun;
/** @type {Map<number, {name: string, json: string, stopped: boolean, steps: Steps | null}>} calculations under way */
const running = new Map();
/** Between two slices the worker hears what the page has to say. */
const SLICE_MS = 50;
/** A first answer is held back for so long: the last one may follow at once. */
const HELD_MS = 10;
/** What Python wrote to its error stream while starting. */
const complaints = [];

self.onmessage = ({ data }) => {
  if (data.type === "part") slot(data.asset, data.index).arrive(data.text);
  else if (data.type === "start") begun = start(data).catch(fail);
  else if (data.stop) stop(running.get(data.id));
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
  started = await python();
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

async function answer({ id, name, json }) {
  await begun;
  if (!started) return; // the page has been told
  const come = started.come(name);
  if (come) await come;
  running.set(id, { name, json, stopped: false, steps: null });
  attempt(id);
}

/** Ask for the best answer so far, also of what begins anew. */
function stop(asked) {
  if (!asked) return;
  asked.stopped = true;
  asked.steps?.stop();
}

function begin(asked) {
  asked.steps = started.begin(asked.name, asked.json);
  if (asked.stopped) asked.steps.stop();
}

/** Work on a calculation for a while; most come to their end in the first slice. */
function slice(id) {
  const asked = running.get(id);
  let end = performance.now() + SLICE_MS;
  let text, early;
  do {
    if (!asked.steps) begin(asked);
    text = asked.steps.advance();
    if (text.startsWith(started.marks.early)) [early, end] = [text, performance.now() + HELD_MS];
    else if (!text.startsWith(started.marks.progress)) return last(id, text);
  } while (performance.now() < end);
  self.postMessage(early ? { id, early } : { id, progress: text });
  setTimeout(() => attempt(id), 0);
}

function last(id, json) {
  drop(id);
  self.postMessage({ id, json });
}

function drop(id) {
  running.get(id)?.steps?.destroy();
  running.delete(id);
}

/** @param {number} id */
function attempt(id) {
  if (!running.has(id)) return;
  try {
    slice(id);
  } catch (error) {
    const ready = started.again(error);
    if (!ready) return broken(id, error);
    running.forEach((asked) => (asked.steps = null));
    ready.then(() => attempt(id)).catch(() => broken(id, error));
  }
}

function broken(id, error) {
  drop(id);
  // Pyodide's message is the whole traceback; its last line is for people.
  const detail = String(error.message).trim();
  self.postMessage({ id, error: detail.split("\n").pop(), detail });
}

/** A calculation that has no steps.
 * @returns {Steps} */
function inOne(advance) {
  return { advance, stop() {}, destroy() {} };
}
