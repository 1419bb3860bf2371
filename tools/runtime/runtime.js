// The page's half of Python: window.HandbookPython.
// A classic script, because a page opened as a file may load nothing else. It
// fetches the assets beside it by adding script tags, only when Python is wanted,
// and hands their text to the worker; unpacking on the page would freeze it.
"use strict";

(() => {
  /** Filled in by pack.py: the build, and how many parts each asset has.
   * @type {{build: string, parts: Record<string, number>}} */
  const PACKED = {};

// unpack.js

  /** A slow phone needs 20 seconds; three times that is not coming any more. */
  const START_LIMIT_MS = 60000;

  /** @typedef {"idle"|"loading"|"ready"|"failed"} State */
  /** @typedef {{build: string, python: string, ms: Record<string, number>}} Info */

  const here = document.currentScript.src;
  const MESSAGES = {
    idle: "Calculators have not been started.",
    loading: "Getting the calculators ready…",
    ready: "Calculators are ready.",
  };

  /** @type {State} */
  let state = "idle";
  let message = MESSAGES.idle;
  /** @type {Set<(state: State, message: string) => void>} */
  const listeners = new Set();
  /** One start from first script tag to the end of its worker; null when idle. */
  let session = null;
  let nextId = 1;

  function setState(newState, newMessage = MESSAGES[newState]) {
    state = newState;
    message = newMessage;
    listeners.forEach((listener) => listener(state, message));
  }

  /** Start Python if it is not running.
   * @returns {Promise<Info>} rejects with an Error meant for the reader */
  function start() {
    session ??= newSession();
    return session.started;
  }

  /** Run one calculator, starting Python first if need be. One that takes long tells how far it
   * is, and `halt` ends it with the best answer so far.
   * @param {string} name @param {string} jsonText
   * @param {(progress: {text: string, share: number | null}, halt: () => void) => void} [watch]
   * @returns {Promise<string>} */
  async function run(name, jsonText, watch = () => {}) {
    await start();
    const { waiting } = session;
    const worker = await session.worker;
    const id = nextId++;
    const halt = () => worker.postMessage({ id, stop: true });
    return new Promise((resolve, reject) => {
      waiting.set(id, { resolve, reject, told: (text) => watch(JSON.parse(text).progress, halt) });
      worker.postMessage({ id, name, json: jsonText });
    });
  }

  /** End Python at once, whatever it is doing; running work is rejected. */
  function stop() {
    if (!session) return;
    end(session, new Error("Stopped."));
    setState("idle");
  }

  /** @returns {Promise<Info>} */
  function restart() {
    stop();
    return start();
  }

  /** Hear of each change, and of the present state at once.
   * @param {(state: State, message: string) => void} listener
   * @returns {() => void} stops listening */
  function onstate(listener) {
    listeners.add(listener);
    listener(state, message);
    return () => listeners.delete(listener);
  }

  function newSession() {
    const mine = { waiting: new Map(), began: performance.now() };
    mine.started = new Promise((resolve, reject) => Object.assign(mine, { resolve, reject }));
    mine.started.catch(() => {}); // the state tells it too
    mine.timer = setTimeout(() => fail(mine, "Python did not start within a minute."), START_LIMIT_MS);
    setState("loading");
    launch(mine).catch((error) => fail(mine, error.message));
    return mine;
  }

  async function launch(mine) {
    const lacking = ["WebAssembly", "DecompressionStream", "Worker"].find((name) => !(name in window));
    if (lacking) throw new Error(`This browser cannot run the calculators: it has no ${lacking}.`);
    // All tags at once, so that the files are read side by side; the program
    // first, because the worker starts with it alone.
    mine.worker = loadPart("program", 0).then((text) => newWorker(mine, text));
    await Promise.all([mine.worker, ...allParts().map((part) => deliver(mine, part))]);
  }

  function allParts() {
    return Object.entries(PACKED.parts).flatMap(([asset, count]) =>
      Array.from({ length: count }, (_, index) => ({ asset, index })),
    );
  }

  async function deliver(mine, { asset, index }) {
    const text = await loadPart(asset, index);
    (await mine.worker).postMessage({ type: "part", asset, index, text });
  }

  /** Add one asset's script tag. Its text is taken off the global at once, so
   * that the page does not keep megabytes it never reads again.
   * @returns {Promise<string>} */
  function loadPart(asset, index) {
    const name = `python-${asset}-${index}`;
    const script = document.createElement("script");
    return new Promise((resolve, reject) => {
      script.onload = () => {
        const text = window.HandbookAssets?.[name];
        if (!text) return reject(new Error(`A part of this handbook is damaged: ${name}.js`));
        delete window.HandbookAssets[name];
        script.remove();
        resolve(text);
      };
      script.onerror = () => reject(new Error(`A part of this handbook is missing: ${name}.js`));
      script.src = new URL(`${name}.js`, here).href;
      document.head.append(script);
    });
  }

  async function newWorker(mine, packedText) {
    const source = new Blob([await unpack(packedText)], { type: "text/javascript" });
    mine.url = URL.createObjectURL(source);
    const worker = new Worker(mine.url);
    worker.onmessage = ({ data }) => receive(mine, data);
    worker.onerror = (event) => fail(mine, event.message || "The browser refused to start the worker.");
    worker.postMessage({ type: "start", parts: PACKED.parts });
    return worker;
  }

  /** @param {string} text one part that is the whole @returns {Promise<ArrayBuffer>} */
  function unpack(text) {
    const texts = [text, null];
    return new Response(unpacked(async () => texts.shift())).arrayBuffer();
  }

  function receive(mine, data) {
    if (data.type === "ready") ready(mine, data);
    else if (data.type === "failed") fail(mine, data.message);
    else if (data.progress) mine.waiting.get(data.id)?.told(data.progress);
    else settle(mine, data);
  }

  function ready(mine, { build, python, ms }) {
    if (build !== PACKED.build) return fail(mine, mixedBuilds(build));
    clearTimeout(mine.timer);
    URL.revokeObjectURL(mine.url);
    const total = Math.round(performance.now() - mine.began);
    mine.resolve({ build, python, ms: { ...ms, total } });
    setState("ready");
  }

  function mixedBuilds(build) {
    return (
      `The page and its calculators come from different builds (${PACKED.build} and ${build}). ` +
      "Load the page again; if that does not help, copy the whole handbook again."
    );
  }

  function settle({ waiting }, { id, json, error, detail }) {
    const { resolve, reject } = waiting.get(id);
    waiting.delete(id);
    if (error === undefined) resolve(json);
    else reject(Object.assign(new Error(error), { detail }));
  }

  function fail(mine, reason) {
    if (session !== mine) return;
    end(mine, new Error(reason));
    setState("failed", `The calculators cannot run here. ${reason}`);
  }

  /** Take a session down; the next start() makes a new one. */
  function end(mine, error) {
    session = null;
    clearTimeout(mine.timer);
    mine.worker?.then((worker) => worker.terminate()).catch(() => {});
    if (mine.url) URL.revokeObjectURL(mine.url);
    mine.reject(error);
    mine.waiting.forEach(({ reject }) => reject(error));
  }

  window.HandbookPython = {
    start,
    run,
    stop,
    restart,
    onstate,
    get state() {
      return state;
    },
    get message() {
      return message;
    },
  };
})();
