// Throws odd texts at what a page takes from outside: links in its address, lists kept in the browser's store, files that
// a reader opens. Put into a page of the handbook by inpage.py; window.HandbookFuzz.run(target, runs, seed) tells the faults.
"use strict";

(() => {
  const ODD = [null, true, 0, -1, 1e300, 0.1, "", " ", "?", "NaN", "1e5", "<b>", "\u0000", "\ud800", "\u2028", "__proto__",
    "constructor", "length", [], {}, [[]], [null], { "": null }, { __proto__: 1 }, "a".repeat(300)];
  const PIECES = ["", "\"", "{", "}", "[", "]", ",", ":", "\\", "%", "%u", "%FF", "\n", "\r\n", ";", "\t", "=", "#", "é", "\ufeff", "null", "1",
    "x".repeat(50)];
  /** Kinds of answer that were seen: what gives a new one is changed further. */
  const KEPT = 400;

  /** @param {number} seed @returns {() => number} from 0 to 1, the same for the same seed (mulberry32) */
  function dice(seed) {
    let state = seed >>> 0;
    return () => {
      state = (state + 0x6d2b79f5) >>> 0;
      let mixed = Math.imul(state ^ (state >>> 15), state | 1);
      mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
      return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
    };
  }

  const one = (list, random) => list[Math.floor(random() * list.length)];

  function changed(text, random) {
    if (random() < 0.6) {
      try {
        const value = JSON.parse(text);
        return JSON.stringify(reshaped(value, random));
      } catch {
        // No JSON: its letters are changed.
      }
    }
    const from = Math.floor(random() * (text.length + 1));
    const to = Math.min(text.length, from + Math.floor(random() * 30));
    return one([
      () => text.slice(0, from) + one(PIECES, random) + text.slice(to),
      () => text.slice(0, from) + text.slice(to),
      () => text.slice(0, to) + text.slice(from),
    ], random)();
  }

  /** The value with something in it put in another's place. */
  function reshaped(value, random, depth = 0) {
    if (typeof value !== "object" || value === null || random() < 0.2 / (depth + 1)) return one(ODD, random);
    const keys = Object.keys(value);
    const key = one(keys, random);
    const copy = Array.isArray(value) ? [...value] : { ...value };
    const way = random();
    if (way < 0.1 || key === undefined) copy[one(["x", "0", "value", "version", "__proto__"], random)] = one(ODD, random);
    else if (way < 0.2) Array.isArray(copy) ? copy.splice(Number(key), 1) : delete copy[key];
    else if (way < 0.25 && Array.isArray(copy)) copy.push(...copy);
    else copy[key] = reshaped(value[key], random, depth + 1);
    return copy;
  }

  // -- links ------------------------------------------------------------------------------

  const links = {
    seeds() {
      const root = document.querySelector("[data-calculator]");
      const form = root.querySelector("form");
      const base = { calculator: root.dataset.calculator, units: "us", rules: "us", inputs: window.HandbookInputs.read(form) };
      return [base, { ...base, units: "si" }, { ...base, rules: undefined }].map((each) => JSON.stringify(each));
    },
    /** A link is taken whole, or refused in words; what was taken stands in the form as it was sent. */
    async try(text, random) {
      const { HandbookLink: Link, HandbookInputs: Inputs } = window;
      const root = document.querySelector("[data-calculator]");
      const form = root.querySelector("form");
      const hash = `#inputs=${random() < 0.8 ? sent(text) : text}`;
      let link;
      try {
        link = Link.read(hash);
        Link.check(link, root.dataset.calculator, form);
        Link.remark(link, "us");
      } catch (error) {
        if (error instanceof Link.Unusable && error.message) return error.message.slice(0, 40);
        throw error;
      }
      if (random() < 0.05) {
        Inputs.write(form, link.inputs);
        Inputs.read(form);
      }
      return "taken";
    },
  };

  function sent(text) {
    try {
      return encodeURIComponent(text);
    } catch {
      return text; // half a letter
    }
  }

  // -- lists in the store -----------------------------------------------------------------

  const shelves = {
    names: () => ["fits", "cards", "who", "here", "differences", ...window.HandbookStore.names().filter((name) => !name.includes("damaged")),
      `checklist ${location.pathname}`, `answers ${location.pathname}`],
    seeds() {
      const job = { job: "A", ticks: { "step-1": { at: "2026-11-28 10:00", who: "Route keeper" } }, record: { Serial: "1" } };
      const test = { date: "2026-11-28", product: "A", coil: "B", put: 5, came: 5, kept: 5 };
      return [job, [test], { "A": { "power_switch": "left" } }, "Route keeper", { key: "a", name: "A", kind: "site" },
        [{ at: "2026-11-28", difference: -25, counted: "1", must_hold: "2" }]].map((value) => JSON.stringify({ version: 1, value }));
    },
    /** Whatever stands in the store, a page that reads it goes on. */
    async try(text, random) {
      const handbook = document.querySelector('meta[name="handbook"]').content;
      const key = `handbook:${handbook}:${one(this.names(), random)}`;
      localStorage.setItem(key, text);
      dispatchEvent(new StorageEvent("storage", { key }));
      document.dispatchEvent(new CustomEvent("handbook-here", { detail: window.HandbookHere?.get() }));
      window.HandbookStore.pack();
      const { problem } = window.HandbookStore.unpack(text);
      return problem;
    },
  };

  // -- files ------------------------------------------------------------------------------

  const files = {
    seeds: () => ["date,product,coil\n2026-11-28,A,B\n", "2026-11-28 08:55, 41\n2026-11-28 09:00, 39\n", "time;temp\n08:55;4,5\n",
      JSON.stringify({ handbook: "A", version: 1, shelves: { fits: [] } }),
      JSON.stringify({ checklist: "procedures/level-and-bear", title: "A", at: "", job: "", ticks: {}, record: {}, answers: {} })],
    /** Any file is opened, or refused in words. */
    async try(text, random) {
      const inputs = [...document.querySelectorAll('input[type="file"]')];
      const input = one(inputs, random);
      const bytes = random() < 0.2 ? Uint8Array.from({ length: 200 }, () => 256 * random()) : text;
      const chosen = new DataTransfer();
      chosen.items.add(new File([bytes], "tried.csv"));
      input.files = chosen.files;
      input.dispatchEvent(new Event("change", { bubbles: true }));
      await new Promise((done) => setTimeout(done, 1));
      return [...document.querySelectorAll('[role="status"], .hb-log-said')].map((each) => each.textContent.slice(0, 20)).join();
    },
  };

  const TARGETS = { links, shelves, files };

  /** @returns {Promise<{done: number, kinds: number, faults: {text: string, why: string}[]}>} */
  async function run(target, runs, seed) {
    const random = dice(seed);
    const faults = new Map();
    let text = "";
    const note = (error) => {
      const why = String(error?.stack ?? error);
      const kind = why.split("\n")[0].replace(/[\d"'“”].*/, "");
      if (!faults.has(kind) || faults.get(kind).text.length > text.length) faults.set(kind, { text, why });
    };
    const heard = ({ error, message, reason }) => note(error ?? reason ?? message);
    addEventListener("error", heard);
    addEventListener("unhandledrejection", heard);
    const kinds = new Set();
    const pool = TARGETS[target].seeds();
    for (let done = 0; done < runs; done++) {
      text = one(pool, random);
      for (let more = 0; more < 1 + 3 * random(); more++) text = changed(text, random) ?? "";
      try {
        const kind = await TARGETS[target].try(text, random);
        if (!kinds.has(kind) && pool.length < KEPT) pool.push(text);
        kinds.add(kind);
      } catch (error) {
        note(error);
      }
    }
    removeEventListener("error", heard);
    removeEventListener("unhandledrejection", heard);
    return { done: runs, kinds: kinds.size, faults: [...faults.values()] };
  }

  window.HandbookFuzz = { run };
})();
