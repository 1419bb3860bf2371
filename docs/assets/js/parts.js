// Parts of the handbook that a page brings only when they are wanted, each once: window.HandbookParts.
// A page opened as a file may load nothing but scripts, so a part is one: it puts itself into window.HandbookAssets.
// Where the whole handbook is one file, window.HandbookWhole has the parts and knows the way to other pages.
"use strict";

(() => {
  const whole = window.HandbookWhole;
  /** Goes before a path of the handbook. */
  const root = whole?.root ?? document.currentScript.src.replace(/assets\/js\/parts\.js.*/, "");

  /** @type {Map<string, Promise<any>>} by address */
  const loading = new Map();

  /** @param {string} address of the script @param {string} name what the part is called in it
   * @returns {Promise<any>} rejects where it is missing or damaged */
  function load(address, name) {
    if (!loading.has(address)) {
      const coming = whole?.part(name) ?? fetched(address, name);
      loading.set(address, coming);
      coming.catch(() => loading.delete(address)); // the next tap asks again
    }
    return loading.get(address);
  }

  function fetched(address, name) {
    const script = document.createElement("script");
    return new Promise((resolve, reject) => {
      script.onload = () => {
        const found = window.HandbookAssets?.[name];
        script.remove();
        if (found) resolve(found);
        else reject(new Error("damaged"));
      };
      script.onerror = () => reject(new Error("missing"));
      script.src = address;
      document.head.append(script);
    });
  }

  /** The way on, beside every word that something is missing or damaged. */
  function checkLink() {
    return Object.assign(document.createElement("a"), { className: "hb-check-copy hb-screen-only", href: `${root}reference/check-this-copy.html`, textContent: "Check this copy" });
  }

  window.HandbookParts = { load, root, checkLink };
})();
