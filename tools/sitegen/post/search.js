// Stands in for the worker of the theme's search, which may not be started from a file.
// Nothing is loaded before the first message, that is, before somebody searches: then a
// script tag brings the worker's source and the worker starts from a blob.
"use strict";

class HandbookSearchWorker extends EventTarget {
  /** @param {string} url the script that holds the worker's source */
  constructor(url) {
    super();
    this.url = url;
    /** @type {Promise<Worker> | null} */
    this.worker = null;
  }

  /** @param {unknown} message */
  postMessage(message) {
    this.worker ??= this.start();
    this.worker.then((worker) => worker.postMessage(message)).catch(HandbookSearchWorker.tell);
  }

  async start() {
    const source = await this.load();
    const url = URL.createObjectURL(new Blob([source], { type: "text/javascript" }));
    const worker = new Worker(url);
    worker.onmessage = ({ data }) => {
      URL.revokeObjectURL(url);
      this.dispatchEvent(new MessageEvent("message", { data }));
    };
    worker.onerror = () => HandbookSearchWorker.tell();
    return worker;
  }

  /** @returns {Promise<string>} */
  load() {
    const script = document.createElement("script");
    return new Promise((resolve, reject) => {
      script.onload = () => {
        const assets = /** @type {any} */ (window).HandbookAssets ?? {};
        const source = assets["search-worker"];
        delete assets["search-worker"];
        script.remove();
        if (source) resolve(source);
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
    if (place) place.textContent = "Search cannot run here. Copy the whole handbook again.";
  }
}
