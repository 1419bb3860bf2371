// Stands in for the worker of the theme's search, which may not be started from a file.
// Nothing is loaded before the first message, that is, before somebody searches: then a
// script tag brings the worker's source and the packed texts, and the worker starts from a blob.
"use strict";

/** The message that hands the texts to the worker; the page has none to hand. */
const SEARCH_SETUP = 0;

window.HandbookSearchWorker = class HandbookSearchWorker extends EventTarget {
  /** @param {string} url the script that holds the worker's source */
  constructor(url) {
    super();
    this.url = url;
    /** @type {Promise<{worker: Worker, docs: Promise<unknown[]>}> | null} */
    this.started = null;
    /** @type {Promise<void>} the messages so far, in order */
    this.sent = Promise.resolve();
  }

  /** @param {{type: number, data: any}} message */
  postMessage(message) {
    this.sent = this.sent.then(() => this.send(message)).catch(HandbookSearchWorker.tell);
  }

  /** @param {{type: number, data: any}} message */
  async send({ type, data }) {
    const { worker, docs } = await (this.started ??= this.start());
    const whole = type === SEARCH_SETUP ? { ...data, docs: await docs } : data;
    worker.postMessage({ type, data: whole });
  }

  async start() {
    const { source, docs } = await this.load();
    const url = URL.createObjectURL(new Blob([source], { type: "text/javascript" }));
    const worker = new Worker(url);
    worker.onmessage = ({ data }) => {
      URL.revokeObjectURL(url);
      this.dispatchEvent(new MessageEvent("message", { data }));
    };
    worker.onerror = () => HandbookSearchWorker.tell();
    return { worker, docs: HandbookSearchWorker.unpack(docs) };
  }

  /** @param {string} text JSON, gzip, base64 @returns {Promise<unknown[]>} */
  static unpack(text) {
    const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
    const packed = new ReadableStream({
      start(controller) {
        controller.enqueue(bytes);
        controller.close();
      },
    });
    return new Response(packed.pipeThrough(new DecompressionStream("gzip"))).json();
  }

  /** @returns {Promise<{source: string, docs: string}>} */
  load() {
    const whole = window.HandbookWhole;
    if (whole) return Promise.all([whole.part("search-worker"), whole.part("search-docs")]).then(([source, docs]) => ({ source, docs }));
    const script = document.createElement("script");
    return new Promise((resolve, reject) => {
      script.onload = () => {
        const assets = /** @type {any} */ (window).HandbookAssets ?? {};
        const { "search-worker": source, "search-docs": docs } = assets;
        delete assets["search-worker"];
        delete assets["search-docs"];
        script.remove();
        if (source && docs) resolve({ source, docs });
        else reject(new Error("The search file of this handbook is damaged."));
      };
      script.onerror = () => reject(new Error("The search file of this handbook is missing."));
      script.src = this.url;
      document.head.append(script);
    });
  }

  /** Say in the list of hits that there will be none. */
  static tell() {
    const place = document.querySelector(".md-search-result__meta");
    place?.replaceChildren("Search cannot run here. Copy the whole handbook again. ", window.HandbookParts?.checkLink() ?? "");
  }
};

// The theme looks at the field when a key is let go, which pasted and spoken words never do.
document.addEventListener("input", ({ target }) => {
  if (target instanceof HTMLInputElement && target.matches(".md-search__input")) target.dispatchEvent(new KeyboardEvent("keyup"));
});
