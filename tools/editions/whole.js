// The handbook as one file. Pages, styles, scripts and lists lie packed in it; the page that the address names
// (handbook.html#!/procedures/clean.html#step-5) is written into this one window, whose Python stays warm.
// Opening a document anew takes off every listener of the page before; its scripts stand in functions of their own
// (whole.py), to which `location` and `history` are those of the page in view.
"use strict";

(() => {
// unpack.js

  /** Filled in by whole.py: where each file lies in the archive (first byte, length), the pages' common head.
   * @type {{files: Record<string, [number, number]>, home: string, lost: string, index: object}} */
  const WHOLE = {};
  /** How the address of a page in this file begins. */
  const MARK = "#!/";
  /** What stands for a script, a style sheet or a picture in a page, see whole.py. */
  const SLOT = /\ue000([^\ue000]*)\ue000/g;
  const FOLDER = folder();
  const FILE = location.href.split("#")[0];
  const DAMAGED = "This copy of the handbook is damaged or was cut off on its way: have the file sent again.";

  const archive = fromSixteenBits(taken("hb-archive"));
  const texts = new Map([...document.querySelectorAll("script[data-part]")].map((each) => [each.dataset.part, each.textContent]));
  const python = window.HandbookPython;
  /** The page in view: its file, and what its address asks. */
  let page = { path: "", search: "" };
  /** Counts pages that were asked for: only the last one is shown. */
  let asked = 0;
  /** @type {Record<string, string>} */
  let pieces = {};
  /** How far down each page was read, by its entry of the history. */
  const read = new Map();
  /** What the page in view has to give back when it goes. @type {(() => void)[]} */
  let lent = [];

  /** What the paths of pages are taken from; where a program shows the file without a place of its own, a made-up one. */
  function folder() {
    try {
      return new URL("./", location.href).href;
    } catch {
      return "page:///";
    }
  }

  function taken(id) {
    return document.getElementById(id).textContent;
  }

  /** @param {string} name @returns {Promise<string>} a file of the archive; rejects where it is damaged */
  function file(name) {
    const [start, length] = WHOLE.files[name];
    const packed = new ReadableStream({
      start(controller) {
        controller.enqueue(archive.slice(start, start + length));
        controller.close();
      },
    });
    return new Response(packed.pipeThrough(new DecompressionStream("gzip"))).text();
  }

  // -- addresses --------------------------------------------------------------------------

  /** What an address of this file names; null where that is a place in the page in view. */
  function named(hash) {
    if (!hash.startsWith(MARK)) return null;
    const { pathname, search, hash: place } = new URL(hash.slice(MARK.length), "page:///");
    return { path: decoded(pathname.replace(/^\/+/, "")) || WHOLE.home, search, place };
  }

  function decoded(text) {
    try {
      return decodeURIComponent(text);
    } catch {
      return text;
    }
  }

  /** The page in view as an address of a folder: what its scripts take for their own. */
  function seen() {
    const told = named(location.hash);
    return new URL(`${page.path}${page.search}${told ? told.place : location.hash}`, FOLDER);
  }

  /** The address in this file of one in a folder; null where it leads elsewhere. */
  function inside(address) {
    const url = new URL(address, seen());
    if (!url.href.startsWith(FOLDER) || url.href.startsWith(FILE)) return null;
    return `${MARK}${url.href.slice(FOLDER.length)}`;
  }

  const place = {
    get hash() { return seen().hash; },
    set hash(hash) { location.hash = `${MARK}${page.path}${page.search}#${String(hash).replace(/^#/, "")}`; },
    get href() { return seen().href; },
    set href(address) { location.href = inside(address) ?? address; },
    get origin() { return location.origin; },
    get pathname() { return seen().pathname; },
    get protocol() { return location.protocol; },
    get search() { return page.search; },
    reload: () => location.reload(),
    toString: () => seen().href,
  };

  /** @param {"pushState" | "replaceState"} how */
  function told(how, state, address) {
    const own = inside(address ?? "");
    if (own) {
      const { path, search } = named(own);
      if (path === page.path) page.search = search;
    }
    history[how](state, "", own ?? address);
  }

  const past = {
    get state() { return history.state; },
    get length() { return history.length; },
    get scrollRestoration() { return history.scrollRestoration; },
    set scrollRestoration(_) {}, // this file's own matter
    pushState: (state, _, address) => told("pushState", state, address),
    replaceState: (state, _, address) => told("replaceState", state, address),
    back: () => history.back(),
    forward: () => history.forward(),
    go: (steps) => history.go(steps),
  };

  /** A link that a script has made leads into this file, also where it is opened in a new tab. */
  function turn({ target }) {
    const link = target instanceof Element ? target.closest("a[href]") : null;
    const address = link?.getAttribute("href");
    if (!link || /^(#|blob:|data:|mailto:|tel:)/.test(address)) return;
    const own = inside(address);
    if (own && Object.hasOwn(WHOLE.files, named(own).path)) link.href = own;
  }

  // -- what a page is lent ----------------------------------------------------------------

  /** Python for one page: what it listens to ends with it, and so does what it is working out. */
  function lend() {
    const halts = new Set();
    const own = Object.create(python, {
      onstate: { value: (listener) => kept(python.onstate(listener)) },
      run: {
        value: async (name, json, watch = () => {}, quiet = () => {}) => {
          let halt = () => {};
          const watched = (progress, stop) => watch(progress, (halt = stop));
          const end = () => halt();
          halts.add(end);
          return python.run(name, json, watched, quiet).finally(() => halts.delete(end));
        },
      },
    });
    lent = [() => halts.forEach((halt) => halt())];
    window.HandbookPython = own;
  }

  function kept(back) {
    lent.push(back);
    return back;
  }

  /** A question about the screen; it would keep the page that asks it for ever. */
  function asking(query) {
    const list = window.matchMedia(query);
    const listen = list.addEventListener.bind(list);
    list.addEventListener = (kind, listener, ...more) => {
      listen(kind, listener, ...more);
      lent.push(() => list.removeEventListener(kind, listener));
    };
    list.addListener = (listener) => list.addEventListener("change", listener);
    return list;
  }

  window.HandbookWhole = {
    /** Goes before a path, as the way to the folder does elsewhere. */
    root: `${FILE}${MARK}`,
    /** What addresses of pages are resolved by, where a script does that. */
    folder: FOLDER,
    /** The address of the page in view, without a place in it. */
    get page() { return `${FILE}${MARK}${page.path}${page.search}`; },
    /** What a script of the folder hands over. @param {string} name @returns {Promise<any>} */
    part: async (name) => (texts.has(name) ? texts.get(name) : JSON.parse(await file(`part ${name}`))),
    /** What the scripts of a page take for theirs. */
    given: [place, past, asking],
    /** The scripts that a browser puts off see a page that is read to its end. */
    late(isLate) {
      if (isLate) Object.defineProperty(document, "readyState", { configurable: true, get: () => "interactive" });
      else delete document.readyState;
    },
  };
  window.__index = WHOLE.index; // the search's settings, which the theme looks for

  // -- showing ----------------------------------------------------------------------------

  /** Follow the address: to another page, or to a place in the one in view. */
  function follow(event) {
    const wanted = named(location.hash);
    if (!wanted) {
      // The browser has gone to the place already.
      history.replaceState(history.state, "", `${MARK}${page.path}${page.search}${location.hash}`);
      return;
    }
    if (wanted.path === page.path && wanted.search === page.search) {
      asked++; // a page that is still on its way is not wanted any more
      if (event.type === "hashchange") come(wanted.place);
      return;
    }
    event.stopImmediatePropagation();
    show(wanted);
  }

  /** @param {{path: string, search: string, place: string}} wanted */
  async function show(wanted) {
    const mine = ++asked;
    const isThere = Object.hasOwn(WHOLE.files, wanted.path);
    const text = await file(isThere ? wanted.path : WHOLE.lost).catch(damaged);
    if (mine !== asked) return;
    page = { path: wanted.path, search: wanted.search };
    lent.forEach((back) => back());
    write(text.replace(SLOT, (_, name) => pieces[name]));
    scrollTo({ top: depth(), behavior: "instant" });
    come(wanted.place);
  }

  /** How far down the page was read, where the reader comes back to it; a link leads to its top. */
  function depth() {
    const view = history.state?.view ?? `${Date.now()} ${asked}`;
    history.replaceState({ ...history.state, view }, "");
    return read.get(view) ?? 0;
  }

  /** The page that stands for one that cannot be read. */
  function damaged(error) {
    console.error(error);
    return `<!doctype html><html lang="en"><head><title>Damaged</title></head><body><p>${DAMAGED}</p></body></html>`;
  }

  /** @param {string} text a whole page */
  function write(text) {
    document.open();
    listen();
    lend();
    document.write(text);
    document.close();
  }

  /** @param {string} hash a place in the page in view */
  function come(hash) {
    const found = hash && document.getElementById(decoded(hash.slice(1)));
    if (found) found.scrollIntoView();
  }

  function listen() {
    for (const kind of ["popstate", "hashchange"]) addEventListener(kind, follow);
    for (const kind of ["pointerover", "focusin", "click"]) addEventListener(kind, turn, true);
    addEventListener("scroll", () => read.set(history.state?.view, scrollY), { passive: true });
  }

  async function begin() {
    // While this file itself is still read, what is written would be put into it.
    if (document.readyState !== "complete") await new Promise((read) => addEventListener("load", read, { once: true }));
    pieces = JSON.parse(await file("pieces"));
    const wanted = named(location.hash) ?? { path: WHOLE.home, search: "", place: "" };
    if (!location.hash.startsWith(MARK)) history.replaceState(history.state, "", `${MARK}${wanted.path}`);
    await show(wanted);
  }

  begin().catch((error) => write(damaged(error)));
})();
