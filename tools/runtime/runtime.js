// The page's half of Python: window.HandbookPython.
// A classic script, because a page opened as a file may load nothing else. It
// fetches the assets beside it by adding script tags, only when Python is wanted,
// and hands their text to the worker; unpacking on the page would freeze it.
"use strict";

(() => {
  /** Filled in by pack.py: the build, how many parts each asset has, and the calculators whose first answer needs
   * no more than Python's memory.
   * @type {{build: string, parts: Record<string, number>, warm: string[]}} */
  const PACKED = {};
  /** Filled in as well: the text of the worker that unpacks, see aside.js. */
  const ASIDE = "";
  /** And that of the worker that runs Python with its memory put back, see restored.js. */
  const RESTORED = "";

// unpack.js

// load.js

  /** While it starts: a slow phone needs 20 seconds from its last part on, a slow line many for a part.
   * Where nothing has moved for a minute, nothing will. */
  const START_LIMIT_MS = 60000;
  /** While it works: Python tells how far it is, or answers, long before. */
  const QUIET_MS = 20000;

  /** What a first answer needs, and what may come after it. */
  const FIRST = ["wasm", "snapshot"];
  const LATER = ["calculators", "library"];

  /** @typedef {"idle"|"loading"|"ready"|"failed"} State */
  /** @typedef {{build: string, python: string, restored: boolean, trouble?: string, ms: Record<string, number>}} Info
   * restored: whether its memory was put back; trouble: what kept it from that */

  const MESSAGES = {
    idle: "Calculators have not been started.",
    loading: "Getting the calculators ready…",
    ready: "Calculators are ready.",
    stopped: "The calculators were stopped.",
    gone: "The calculators have stopped by themselves.",
    slow: "Nothing has come for a minute: the connection may be slow or broken. Try again.",
    lacking: (what) => `This browser cannot run the calculators: it has no ${what}. Use a newer browser.`,
    damaged:
      "This copy of the handbook seems to be damaged: copy the whole handbook again. " +
      "If that does not help, the browser lacks memory: close other pages and try again.",
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
   * @param {string} [name] the calculator that is going to be asked first
   * @returns {Promise<Info>} rejects with an Error meant for the reader */
  function start(name = "") {
    session ??= newSession(name);
    return session.started;
  }

  /** Run one calculator, starting Python first if need be. One that takes long tells how far it
   * is, and `halt` ends it with the best answer so far. `quiet` is called where nothing was heard of
   * Python for long: it may be gone, as browsers end a worker without a word.
   * @param {string} name @param {string} jsonText
   * @param {(progress: {text: string, share: number | null}, halt: () => void) => void} [watch]
   * @param {() => void} [quiet]
   * @param {(jsonText: string) => void} [early] hears a first answer, less exact, where the request asked for one
   * @returns {Promise<string>} rejects with an Error; where it is `plain`, its message is for the reader */
  function run(name, jsonText, watch = () => {}, quiet = () => {}, early = () => {}) {
    const hears = { watch, quiet, early };
    const { asked } = session ?? {};
    if (session) session.asked = null;
    if (asked?.name === name && asked.jsonText === jsonText) return taken(asked, hears);
    if (asked) asked.hears.watch = (_, halt) => halt();
    return put(name, jsonText, hears);
  }

  /** Ask what the page is going to ask, before it can: `run` with the same has the answer sooner, with another ends this.
   * @param {string} name @param {string} jsonText */
  function ahead(name, jsonText) {
    const hears = { watch() {}, quiet() {}, early: (text) => (hears.heard = text), heard: "" };
    const answer = put(name, jsonText, hears);
    answer.catch(() => {}); // whoever takes it hears of it
    session.asked = { name, jsonText, hears, answer };
  }

  function taken({ hears, answer }, theirs) {
    Object.assign(hears, theirs);
    if (hears.heard) hears.early(hears.heard);
    return answer;
  }

  function put(name, json, hears) {
    start(name);
    const mine = session;
    const id = nextId++;
    const halt = () => post(mine, { id, stop: true });
    return new Promise((resolve, reject) => {
      const told = (text) => hears.watch(JSON.parse(text).progress, halt);
      mine.waiting.set(id, { resolve, reject, hears, told, question: { id, name, json } });
      listen(mine);
      post(mine, { id, name, json });
    });
  }

  /** To the worker that runs Python; one that is still to come is told what waits for it (newWorker). */
  function post({ attempt }, message) {
    attempt.python?.postMessage(message);
  }

  /** Something was heard of Python, or asked: from now on it may be silent for a while. */
  function listen(mine) {
    clearTimeout(mine.quiet);
    if (mine.waiting.size && state === "ready") mine.quiet = setTimeout(() => mine.waiting.forEach(({ hears }) => hears.quiet()), QUIET_MS);
  }

  /** End Python at once, whatever it is doing; running work is rejected. */
  function stop() {
    if (!session) return;
    end(session, new Plain(MESSAGES.stopped));
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

  function newSession(name) {
    const mine = { name, waiting: new Map(), began: performance.now() };
    mine.started = new Promise((resolve, reject) => Object.assign(mine, { resolve, reject }));
    mine.started.catch(() => {}); // the state tells it too
    setState("loading");
    begin(mine, Object.keys(PACKED.parts));
    return mine;
  }

  /** Start with these assets: one attempt, its two workers and their addresses. */
  function begin(mine, assets) {
    const attempt = { mine, assets, urls: [], restore: assets.includes("snapshot") };
    mine.attempt = attempt;
    moved(mine);
    launch(attempt).catch((error) => troubled(attempt, error));
  }

  /** It did not start. Where Python's memory was to be put back, this browser may be the first in which that fails, and
   * it is started from nothing then.
   * @param {{plain?: boolean, message?: string}} machine */
  function troubled(attempt, machine) {
    const { mine, restore, assets } = attempt;
    if (session !== mine || mine.attempt !== attempt) return;
    if (!restore || machine.plain) return fail(mine, machine.plain ? machine.message : MESSAGES.damaged, machine);
    mine.trouble = machine.message ?? "unknown";
    takeDown(attempt);
    setState("loading");
    begin(mine, assets.filter((asset) => asset !== "snapshot"));
  }

  /** Something has come while Python starts. */
  function moved(mine) {
    clearTimeout(mine.timer);
    mine.timer = setTimeout(() => fail(mine, MESSAGES.slow), START_LIMIT_MS);
  }

  async function launch(attempt) {
    const lacking = ["WebAssembly", "DecompressionStream", "Worker"].find((name) => !(name in window));
    if (lacking) throw new Plain(MESSAGES.lacking(lacking));
    await painted();
    const ports = new MessageChannel();
    attempt.aside = newAside(attempt, ports.port1);
    // The worker that starts Python from nothing needs a program first, which is large.
    const program = attempt.restore ? RESTORED : arrival(attempt, "program", 0).then(unpack);
    attempt.worker = Promise.resolve(program).then((text) => newWorker(attempt, text, ports.port2));
    const [first, later] = attempt.restore && PACKED.warm.includes(attempt.mine.name) ? [FIRST, [...LATER]] : [attempt.assets, []];
    attempt.later = () => delivered(attempt, later.splice(0)).catch((error) => troubled(attempt, error));
    await Promise.all([attempt.worker, delivered(attempt, first)]);
  }

  /** All tags at once, so that the files are read side by side. */
  function delivered(attempt, assets) {
    const parts = assets.flatMap((asset) => Array.from({ length: PACKED.parts[asset] }, (_, index) => ({ asset, index })));
    return Promise.all(parts.map((part) => deliver(attempt, part)));
  }

  /** Over a line Python's megabytes would stand in the way of the page itself, which shows a worked example without them. */
  async function painted() {
    if (location.protocol === "file:") return;
    if (document.readyState !== "complete") await new Promise((done) => addEventListener("load", done, { once: true }));
    // A frame, and what was to be done in it; a page in the background draws none.
    await new Promise((done) => (document.hidden ? done() : requestAnimationFrame(() => setTimeout(done))));
  }

  /** The wasm goes to the worker that runs it, all else to the one that unpacks. */
  async function deliver(attempt, { asset, index }) {
    const text = await arrival(attempt, asset, index);
    const to = asset === "wasm" ? await attempt.worker : attempt.aside;
    to.postMessage({ type: "part", asset, index, text }, typeof text === "string" ? [] : [text.buffer]);
  }

  /** One part, and the word that something has come. */
  async function arrival({ mine }, asset, index) {
    const text = await loadPart(asset, index);
    if (session === mine && state === "loading") moved(mine);
    return text;
  }

  function newWorker(attempt, text, port) {
    const worker = workerOf(attempt, text);
    worker.onmessage = ({ data }) => receive(attempt, data);
    worker.postMessage({ type: "start", parts: PACKED.parts, port }, [port]);
    // Where this is a second start, the first worker took its questions with it.
    attempt.mine.waiting.forEach(({ question }) => worker.postMessage(question));
    attempt.python = worker;
    return worker;
  }

  /** The second worker, and the port by which it hands over what it has unpacked. */
  function newAside(attempt, port) {
    const worker = workerOf(attempt, ASIDE);
    const assets = attempt.assets.filter((asset) => asset !== "wasm");
    worker.postMessage({ type: "start", parts: PACKED.parts, assets, port }, [port]);
    return worker;
  }

  function workerOf(attempt, text) {
    const url = URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
    attempt.urls.push(url);
    const worker = new Worker(url);
    worker.onerror = worker.onmessageerror = (event) => {
      if (state === "ready") fail(attempt.mine, MESSAGES.gone, event);
      else troubled(attempt, event);
    };
    return worker;
  }

  /** @param {string | Uint16Array} text one part that is the whole @returns {Promise<ArrayBuffer>} */
  function unpack(text) {
    const texts = [text, null];
    return new Response(unpacked(async () => texts.shift())).arrayBuffer();
  }

  function receive(attempt, data) {
    const { mine } = attempt;
    if (data.type === "ready") return ready(attempt, data);
    if (data.type === "failed") return troubled(attempt, data);
    if (data.type === "wants") return attempt.later();
    if (data.progress) mine.waiting.get(data.id)?.told(data.progress);
    else if (data.early) mine.waiting.get(data.id)?.hears.early(data.early);
    else settle(mine, data);
    if (!mine.waiting.size) attempt.later();
    listen(mine);
  }

  function ready(attempt, { build, python, ms }) {
    const { mine, urls } = attempt;
    if (build !== PACKED.build) {
      const message = mixedBuilds(build);
      return attempt.restore ? troubled(attempt, { message }) : fail(mine, message);
    }
    clearTimeout(mine.timer);
    urls.forEach((url) => URL.revokeObjectURL(url));
    const total = Math.round(performance.now() - mine.began);
    mine.resolve({ build, python, restored: attempt.restore, trouble: mine.trouble, ms: { ...ms, total } });
    setState("ready");
    listen(mine);
  }

  function mixedBuilds(build) {
    return (
      `The page and its calculators come from different builds (${PACKED.build} and ${build}). ` +
      "Load the page again; if that does not help, copy the whole handbook again."
    );
  }

  function settle({ waiting }, { id, json, error, detail }) {
    const asked = waiting.get(id);
    waiting.delete(id);
    if (error === undefined) asked?.resolve(json);
    else asked?.reject(Object.assign(new Error(error), { detail }));
  }

  /** @param {string} reason for the reader @param {{message?: string}} [machine] what the machine says */
  function fail(mine, reason, machine = {}) {
    if (session !== mine) return;
    end(mine, Object.assign(new Plain(reason), { detail: machine.message }));
    setState("failed", `The calculators cannot run here. ${reason}`);
  }

  /** Take a session down; the next start() makes a new one. */
  function end(mine, error) {
    session = null;
    clearTimeout(mine.timer);
    clearTimeout(mine.quiet);
    takeDown(mine.attempt);
    mine.reject(error);
    mine.waiting.forEach(({ reject }) => reject(error));
  }

  function takeDown({ worker, aside, urls }) {
    worker?.then((each) => each.terminate()).catch(() => {});
    aside?.terminate();
    urls.forEach((url) => URL.revokeObjectURL(url));
  }

  window.HandbookPython = {
    start,
    run,
    ahead,
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
