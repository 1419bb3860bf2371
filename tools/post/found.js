// What the page's search asks of its worker, in the theme's own messages.
"use strict";

(() => {
  const SETUP = 0, READY = 1, QUERY = 2, RESULT = 3;
  /** @type {any} */
  let finder = null;

  self.addEventListener("message", ({ data: message }) => {
    if (message.type === SETUP) {
      finder = new HandbookFinder(message.data.docs);
      self.postMessage({ type: READY });
    } else if (message.type === QUERY) {
      self.postMessage({ type: RESULT, data: finder.search(message.data) });
    }
  });
})();
