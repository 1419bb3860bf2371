// Finds a site in a long list by typing. Plain script; without it the list stands there whole.
(() => {
  "use strict";

  const WORDS = { find: "Find a site", none: "No site has all of these words." };

  /** @param {string} text @returns {string} as it is compared: small letters, no accents */
  function plain(text) {
    return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  }

  class Finder {
    /** @param {HTMLElement} list */
    constructor(list) {
      // Read once: a thousand sites are compared at each key.
      this.lines = [...list.children].map((line) => ({ line, text: plain(line.textContent) }));
      this.box = Object.assign(document.createElement("input"), { type: "search", className: "hb-find", autocomplete: "off", spellcheck: false });
      this.said = Object.assign(document.createElement("p"), { className: "hb-hint" });
      this.said.setAttribute("role", "status");
      const label = Object.assign(document.createElement("label"), { className: "hb-field hb-screen-only" });
      label.append(WORDS.find, this.box);
      list.before(label, this.said);
      this.box.addEventListener("input", () => this.show());
      this.box.addEventListener("keydown", (event) => this.key(event));
      if (this.box.value) this.show(); // filled in again by Back
    }

    show() {
      const words = plain(this.box.value).split(/\s+/).filter(Boolean);
      let count = 0;
      for (const { line, text } of this.lines) {
        line.hidden = !words.every((word) => text.includes(word));
        if (!line.hidden) count++;
      }
      this.said.textContent = !words.length ? "" : count ? `${count} of ${this.lines.length}` : WORDS.none;
    }

    /** Enter opens the first that is left, Escape shows all. @param {KeyboardEvent} event */
    key(event) {
      if (event.key === "Enter") this.lines.find(({ line }) => !line.hidden)?.line.querySelector("a").click();
      if (event.key !== "Escape") return;
      this.box.value = "";
      this.show();
    }
  }

  for (const list of document.querySelectorAll("[data-find]")) new Finder(list);
})();
