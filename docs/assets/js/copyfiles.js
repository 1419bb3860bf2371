// Compares the files of this copy with the hashes that the build wrote down: window.HandbookCopyFiles.
// Plain script; it needs parts.js and sum.js before it. What it asks for is this handbook's own, and nothing is sent.
"use strict";

(() => {
  const ROOT = new URL(window.HandbookParts.root);
  const LISTING = "manifest-of-files.js"; // see listing.py, which writes it
  const WRITTEN = /^\(self\.HandbookAssets \?\?= \{\}\)\["files"\] = \[(\{.*\}),"([0-9a-f]{64})"\];\n$/;
  const AT_ONCE = 6;
  const sum = window.HandbookSum;

  /** @typedef {{build: string, files: Record<string, string>}} List
   * @typedef {Uint8Array | null | undefined} Bytes null where there is no such file, undefined where nobody can say
   * @typedef {{good: string[], damaged: string[], missing: string[], unread: string[], unseen: string[], more: string[], build: string}} Found */

  /** The list as the page got it. @returns {Promise<List>} rejects with "missing" or "damaged" */
  async function listed() {
    const [list, own] = await window.HandbookParts.load(new URL(LISTING, ROOT).href, "files");
    if ((await sum(JSON.stringify(list))) !== own) throw new Error("damaged");
    return list;
  }

  /** The list in a text. @param {string} text @returns {Promise<List | null>} null where it is not as it was written */
  async function inText(text) {
    const [, told, own] = WRITTEN.exec(text) ?? [];
    return told && (await sum(told)) === own ? JSON.parse(told) : null;
  }

  /** @param {List} list @param {(path: string) => Promise<Bytes>} bytesOf
   * @param {(share: number) => void} told @returns {Promise<Found>} */
  async function compare({ build, files }, bytesOf, told) {
    const found = { good: [], damaged: [], missing: [], unread: [], unseen: [], more: [], build };
    const paths = Object.keys(files);
    const left = [...paths];
    const worker = async () => {
      for (let path = left.shift(); path !== undefined; path = left.shift()) {
        found[await state(path, files[path], bytesOf)].push(path);
        told((paths.length - left.length) / paths.length);
      }
    };
    await Promise.all(Array.from({ length: AT_ONCE }, worker));
    for (const each of Object.values(found)) if (Array.isArray(each)) each.sort();
    return found;
  }

  async function state(path, hash, bytesOf) {
    try {
      const bytes = await bytesOf(path);
      if (bytes === undefined) return "unseen";
      if (bytes === null) return "missing";
      return (await sum(bytes)) === hash ? "good" : "damaged";
    } catch {
      return "unread";
    }
  }

  /** From the server, or from what the device keeps of it; where that is not right, once more from the server. */
  async function fetched(path, hash) {
    const kept = await asked(path, "default");
    if (!kept || (await sum(kept)) === hash) return kept;
    await renewed(path);
    return asked(path, "reload");
  }

  async function asked(path, cache) {
    const response = await fetch(new URL(encodeURI(path), ROOT), { cache });
    if (response.status === 404 || response.status === 410) return null;
    if (!response.ok) throw new Error(String(response.status));
    return new Uint8Array(await response.arrayBuffer());
  }

  /** The service worker keeps files for good; it is told of one that is damaged. */
  function renewed(path) {
    const worker = navigator.serviceWorker?.controller;
    if (!worker) return undefined;
    const { port1, port2 } = new MessageChannel();
    return new Promise((done) => {
      port1.onmessage = done;
      worker.postMessage({ renew: path }, [port2]);
    });
  }

  /** A page opened as a file may read none. What can be loaded as a script and hands over a text can be put together
   * again as it must stand in its file; of every other file nothing is known. */
  async function rebuilt(path) {
    const [, part] = /^assets\/runtime\/(python-[\w-]+)\.js$/.exec(path) ?? [];
    if (part) return sixteenBits(await handedOver(path, [part], (text) => `"${text}"`));
    const [, form] = /^assets\/forms\/(\w+)\.js$/.exec(path) ?? [];
    if (form) return eightBits(await handedOver(path, [`form-${form}`], ({ html }) => `{"html": ${quoted(html)}}`));
    if (path === "search/search_worker.js") return eightBits(await handedOver(path, ["search-worker", "search-docs"], JSON.stringify));
    return undefined;
  }

  /** @returns {Promise<string | null>} the text of a script that hands over values; null where it is missing, "" where
   * it hands over nothing */
  async function handedOver(path, names, written) {
    const had = names.map((name) => window.HandbookAssets?.[name]);
    for (const name of names) if (window.HandbookAssets) delete window.HandbookAssets[name];
    if (!(await loaded(path))) return null;
    const values = names.map((name) => window.HandbookAssets?.[name]);
    names.forEach((name, at) => (had[at] === undefined ? delete window.HandbookAssets?.[name] : (window.HandbookAssets[name] = had[at])));
    if (values.includes(undefined)) return "";
    return names.map((name, at) => `(self.HandbookAssets ??= {})["${name}"] = ${written(values[at])};\n`).join("");
  }

  function loaded(path) {
    const script = document.createElement("script");
    return new Promise((resolve) => {
      script.onload = () => resolve(true);
      script.onerror = () => resolve(false);
      script.src = new URL(encodeURI(path), ROOT).href;
      document.head.append(script);
    }).finally(() => script.remove());
  }

  /** As row.py writes a form. */
  function quoted(html) {
    return `'${html.replaceAll("\\", "\\\\").replaceAll("'", "\\'").replaceAll("\n", "\\n")}'`;
  }

  const eightBits = (text) => text === null ? null : new TextEncoder().encode(text);

  /** As scripts.py writes a part, with the mark that comes before its letters. */
  function sixteenBits(text) {
    if (text === null) return null;
    const codes = new Uint16Array(text.length + 1);
    codes[0] = 0xfeff;
    for (let at = 0; at < text.length; at++) codes[at + 1] = text.charCodeAt(at);
    return new Uint8Array(codes.buffer);
  }

  /** What can be compared without the reader. @param {(share: number) => void} told */
  async function own(told) {
    const list = await listed();
    const read = ROOT.protocol.startsWith("http") ? (path) => fetched(path, list.files[path]) : rebuilt;
    return compare(list, read, told);
  }

  /** Every file of a folder that the reader chose. @param {Iterable<File>} chosen @param {RegExp} stray what systems leave
   * @returns {Promise<Found | null>} null where there is no handbook in it */
  async function folder(chosen, stray, told) {
    const there = new Map([...chosen].map((file) => [file.webkitRelativePath || file.name, file]));
    const lists = [...there.keys()].filter((path) => path.split("/").pop() === LISTING).sort((a, b) => a.length - b.length);
    const start = lists.length ? lists[0].slice(0, -LISTING.length) : homeOf(there);
    if (start === null) return null;
    const theirs = lists.length ? await inText(await there.get(lists[0]).text()) : null;
    const list = theirs ?? (await listed());
    const found = await compare(list, async (path) => bytesOf(there.get(start + path)), told);
    found.more = [...there.keys()].filter((path) => path.startsWith(start)).map((path) => path.slice(start.length))
      .filter((path) => path !== LISTING && !Object.hasOwn(list.files, path) && !stray.test(path));
    if (!theirs) found[lists.length ? "damaged" : "missing"].push(LISTING);
    return found;
  }

  /** Where the handbook's first page lies, for a copy that has lost its list. */
  function homeOf(there) {
    const homes = [...there.keys()].filter((path) => path.endsWith("/sw.js")).sort((a, b) => a.length - b.length);
    return homes.length ? homes[0].slice(0, -"sw.js".length) : null;
  }

  async function bytesOf(file) {
    return file ? new Uint8Array(await file.arrayBuffer()) : null;
  }

  window.HandbookCopyFiles = { own, folder, root: ROOT };
})();
