// What a reader writes into the handbook, kept on this device: window.HandbookStore.
// A shelf is one kind of thing (the fit book's tests, a checklist's ticks). Where the browser keeps
// nothing, a shelf works all the same until the page is closed, and says so in words.
"use strict";

(() => {
  const handbook = document.querySelector('meta[name="handbook"]')?.content || "handbook";
  /** Handbooks opened as files may share one store: each has its own part of it. */
  const PREFIX = `handbook:${handbook}:`;
  const VERSION = 1;

  const WORDS = {
    kept: "What you write is kept in this browser, on this device only. Clearing the browser’s data removes it.",
    file: "This handbook is opened as a file. What you write is kept in this browser, but some browsers forget it, or keep it for this one page. Download it before you close.",
    none: "This browser keeps nothing here: it is in private mode, or its store is switched off. Your list lasts until you close this page. Copy or download it first.",
    full: "The browser’s store is full: the last change is shown here, but not kept. Download it, then remove what is old.",
    clock: (day) => `This device’s clock says ${day}, which cannot be: set its date. What is dated by it is dated wrong until then.`,
    damaged: "What was kept here could not be read. It is put aside, and the list starts empty.",
  };

  /** Before this edition was written: no clock that goes right says less. */
  const EARLIEST = Date.UTC(2026, 0, 1);

  /** Shelves of a browser that keeps nothing.
   * @type {Map<string, string>} */
  const memory = new Map();
  const keeps = works();

  /** Whether the browser keeps what it is given; asking may itself throw. */
  function works() {
    try {
      localStorage.setItem(`${PREFIX}probe`, "1");
      localStorage.removeItem(`${PREFIX}probe`);
      return true;
    } catch (error) {
      // A full store can still be read, and gets room again by removing.
      return isFull(error) && canRead();
    }
  }

  function canRead() {
    try {
      return localStorage.length > 0;
    } catch {
      return false;
    }
  }

  function isFull(error) {
    return error instanceof DOMException && /quota/i.test(error.name);
  }

  function get(key) {
    return keeps ? localStorage.getItem(PREFIX + key) : (memory.get(key) ?? null);
  }

  /** Put a text, or take it away with null. Returns what went wrong, in words, or nothing. */
  function put(key, text) {
    if (!keeps) {
      if (text === null) memory.delete(key);
      else memory.set(key, text);
      return "";
    }
    try {
      if (text === null) localStorage.removeItem(PREFIX + key);
      else localStorage.setItem(PREFIX + key, text);
      return "";
    } catch (error) {
      return isFull(error) ? WORDS.full : WORDS.none;
    }
  }

  /** How long what is written lasts here, in words. */
  function notice() {
    if (!keeps) return WORDS.none;
    return location.protocol === "file:" ? WORDS.file : WORDS.kept;
  }

  /** What is wrong with the device's clock, in words, or nothing. One that is late can be known, one ahead of time not. */
  function clock() {
    return Date.now() < EARLIEST ? WORDS.clock(new Date().toLocaleDateString([], { dateStyle: "long" })) : "";
  }

  /** Open a shelf.
   * @template T
   * @param {string} name a short word of its own
   * @param {T} empty what an unused shelf holds
   * @param {(value: any) => boolean} usable whether a value that was kept is of the right kind */
  function shelf(name, empty, usable = () => true) {
    return {
      /** @returns {{value: T, problem: string}} */
      read() {
        const text = get(name);
        if (text === null) return { value: structuredClone(empty), problem: "" };
        const value = unpacked(text);
        if (value !== undefined && usable(value)) return { value, problem: "" };
        put(`${name}:damaged`, text);
        put(name, null);
        return { value: structuredClone(empty), problem: WORDS.damaged };
      },
      /** @param {T} value @returns {string} what went wrong, in words, or nothing */
      write(value) {
        return put(name, JSON.stringify({ version: VERSION, value }));
      },
      /** Call back when another window of this handbook changes the shelf. @param {() => void} then */
      watch(then) {
        addEventListener("storage", (event) => {
          if (event.key === PREFIX + name || event.key === null) then();
        });
      },
    };
  }

  /** Shelves by place: what is kept at one site does not stand at another. "" is no place.
   * @template T @param {string} name @param {T} empty @param {(value: any) => boolean} usable
   * @param {() => string} here the key of the place; where the reader is, unless the page has one of its own */
  function placed(name, empty, usable, here = placeNow) {
    const MARK = " @ ";
    const at = (key) => shelf(key ? name + MARK + key : name, empty, usable);
    const keys = () => names().filter((each) => !each.endsWith(":damaged"))
      .flatMap((each) => (each === name ? [""] : each.startsWith(name + MARK) ? [each.slice(name.length + MARK.length)] : []));
    return {
      at,
      read: () => at(here()).read(),
      write: (value) => at(here()).write(value),
      watch: (then) => addEventListener("storage", ({ key }) => (key === null || key.startsWith(PREFIX + name)) && then()),
      /** The other places at which something was kept, by their keys. */
      others: () => keys().filter((key) => key !== here()),
    };
  }

  function placeNow() {
    return window.HandbookHere?.get()?.key ?? "";
  }

  function unpacked(text) {
    try {
      const { version, value } = JSON.parse(text);
      return version === VERSION ? value : undefined;
    } catch {
      return undefined;
    }
  }

  /** The names of all shelves that hold something. */
  function names() {
    if (!keeps) return [...memory.keys()];
    return Object.keys(localStorage).filter((key) => key.startsWith(PREFIX)).map((key) => key.slice(PREFIX.length));
  }

  /** All shelves as one text, to carry to another device. */
  function pack() {
    const shelves = Object.fromEntries(names().sort().map((name) => [name, unpacked(get(name))]));
    return JSON.stringify({ handbook, version: VERSION, shelves }, null, 1);
  }

  /** Put back what pack() gave; the shelves it names are replaced, the others stay.
   * @param {string} text @returns {{done: string[], problem: string}} */
  function unpack(text) {
    let read;
    try {
      read = JSON.parse(text);
    } catch {
      return { done: [], problem: "This file holds no kept lists: it is not JSON." };
    }
    if (read?.version === VERSION && read.handbook !== handbook) {
      return { done: [], problem: "This file holds the lists of another handbook. Nothing was changed." };
    }
    if (read?.version !== VERSION || typeof read.shelves !== "object" || read.shelves === null) {
      return { done: [], problem: "This file holds no kept lists of a handbook of this edition." };
    }
    const done = [];
    for (const [name, value] of Object.entries(read.shelves)) {
      const problem = put(name, JSON.stringify({ version: VERSION, value }));
      if (problem) return { done, problem };
      done.push(name);
    }
    return { done, problem: "" };
  }

  /** Kept whole in memory, a page comes back at Back with all that stands in it; but Safari and its kin then empty what
   * is not to be filled in by the browser. So nothing is marked so while it is away. */
  const unfilled = new Set();
  addEventListener("pagehide", ({ persisted }) => {
    if (!persisted) return;
    for (const each of document.querySelectorAll('[autocomplete="off"]')) {
      each.removeAttribute("autocomplete");
      unfilled.add(each);
    }
  });
  addEventListener("pageshow", () => {
    for (const each of unfilled) each.setAttribute("autocomplete", "off");
    unfilled.clear();
  });

  window.HandbookStore = { shelf, placed, placeNow, notice, clock, names, pack, unpack, keeps };
})();
