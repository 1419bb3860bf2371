// What was typed into a form outlives a reload, Back, a link followed and a tab that the browser let go:
// window.HandbookKeep. It is kept in the store of the tab and, where that is closed, with the entry of the browser's
// history: gone with the tab, so that no measure of last week stands there as today's.
"use strict";

(() => {
  const handbook = document.querySelector('meta[name="handbook"]')?.content || "handbook";

  function keyOf(ident) {
    return `handbook:${handbook}:typed:${location.pathname}:${ident}`;
  }

  /** @param {string} ident the calculator's place in its page @param {object} state */
  function save(ident, state) {
    try {
      history.replaceState({ ...history.state, [keyOf(ident)]: state }, "");
    } catch {
      // A browser that refuses it for a file: the tab's store has it.
    }
    try {
      sessionStorage.setItem(keyOf(ident), JSON.stringify(state));
    } catch {
      // Private, switched off or full: the history has it.
    }
  }

  /** @returns {object | null} what was typed last */
  function read(ident) {
    return stored(ident) ?? history.state?.[keyOf(ident)] ?? null;
  }

  function stored(ident) {
    try {
      return JSON.parse(sessionStorage.getItem(keyOf(ident)));
    } catch {
      return null;
    }
  }

  function forget(ident) {
    save(ident, null);
  }

  window.HandbookKeep = { save, read, forget };
})();
