// Finds a fault: a button for what one sees, then one question at a time, with Yes, No, Back and Start again.
// The trees stand in the page, which is what is read without scripts and on paper; their words are taken from there.
"use strict";

(() => {
  const PREFIX = "#fault-";

  /** @typedef {{key: string, answers: string[]}} Place how far a reader is in which tree */

  class Finder {
    /** @param {HTMLElement} grid the buttons of what one sees */
    constructor(grid) {
      this.grid = grid;
      this.article = /** @type {HTMLElement} */ (grid.closest("article"));
      this.box = this.part("section", "hb-finder", grid.parentElement);
      this.box.hidden = true;
      this.box.setAttribute("aria-label", "One question at a time");
      grid.after(this.box);
      this.article.classList.add("hb-asking");
      window.addEventListener("popstate", () => this.show(true));
      this.article.addEventListener("click", (event) => this.follow(event));
      this.show(Boolean(location.hash));
    }

    /** @param {string} name @param {string} style @param {Element | null} parent @param {string} [text] */
    part(name, style, parent, text) {
      const made = document.createElement(name);
      made.className = style;
      if (text !== undefined) made.textContent = text;
      parent?.append(made);
      return made;
    }

    /** A link to a tree is taken here, so that Back leads out of it as it led in. @param {MouseEvent} event */
    follow(event) {
      const link = /** @type {Element} */ (event.target).closest("a");
      const target = link?.getAttribute("href") ?? "";
      if (!target.startsWith(PREFIX) || event.ctrlKey || event.metaKey || event.shiftKey) return;
      event.preventDefault();
      this.go({ key: target.slice(PREFIX.length), answers: [] });
    }

    /** @param {Place | null} place null for the buttons */
    go(place) {
      history.pushState(place, "", place ? PREFIX + place.key : location.pathname + location.search);
      this.show(true);
    }

    /** @returns {Place | null} */
    place() {
      if (!location.hash.startsWith(PREFIX)) return null;
      const key = location.hash.slice(PREFIX.length);
      return history.state?.key === key ? history.state : { key, answers: [] };
    }

    /** @param {boolean} moved whether the reader did something: then the screen goes where it happened */
    show(moved) {
      const place = this.place();
      const tree = place && this.article.querySelector(`.hb-fault[data-fault="${CSS.escape(place.key)}"]`);
      this.box.hidden = !tree;
      this.grid.hidden = Boolean(tree);
      this.box.replaceChildren();
      if (place && tree) this.ask(place, tree);
      if (tree && moved) this.turnTo();
    }

    turnTo() {
      const head = /** @type {HTMLElement} */ (this.box.querySelector("[tabindex]"));
      head.focus({ preventScroll: true });
      const bar = document.querySelector(".md-header")?.getBoundingClientRect().height ?? 0;
      // The browser goes to a heading of the address by itself, after this, and takes the focus along.
      requestAnimationFrame(() => {
        const { top } = this.box.getBoundingClientRect();
        head.focus({ preventScroll: true });
        scrollTo({ top: Math.max(0, scrollY + top - bar - 8), behavior: "instant" });
      });
    }

    /** @param {Place} place @param {Element} tree */
    ask({ key, answers }, tree) {
      const title = this.grid.querySelector(`a[href="${PREFIX}${CSS.escape(key)}"] span`)?.textContent ?? "";
      const asked = [...tree.querySelectorAll(".hb-ask")];
      const { at, way, first } = this.walked(asked, answers);
      const path = answers.map((answer, place) => `${place + 1} ${answer}`).join(" · ");
      this.part("p", "hb-finder-path", this.box, path ? `${title} · ${path}` : title);
      if (!answers.length) this.before(tree);
      if (first) this.told(first, "first");
      if (way) this.told(way, way.className.replace(/.*hb-way--/, ""));
      else this.question(asked[at], at, asked.length, (answer) => this.go({ key, answers: [...answers, answer] }));
      this.leave(answers);
    }

    /** @param {Element[]} asked @param {string[]} answers where they lead: a question, or what to do */
    walked(asked, answers) {
      /** @type {{at: number, way: Element | null, first: Element | null}} */
      const found = { at: 0, way: null, first: null };
      for (const answer of answers) {
        const way = asked[found.at]?.querySelector(`.hb-way[data-answer="${answer}"]`) ?? null;
        const onward = answer === "Yes" && found.at < asked.length - 1;
        found.first = onward && way?.classList.contains("hb-way--first") ? way : null;
        if (onward) found.at += 1;
        else found.way = way;
      }
      return found;
    }

    /** What stands over the first question. @param {Element} tree */
    before(tree) {
      for (const part of tree.children) {
        if (!part.matches("h3, .hb-asked")) this.box.append(part.cloneNode(true));
      }
    }

    /** @param {Element} way @param {string} kind */
    told(way, kind) {
      const box = this.part("p", `hb-finder-told hb-finder-told--${kind}`, this.box);
      const words = /** @type {Element} */ (way.lastElementChild).cloneNode(true);
      box.append(...words.childNodes);
      const last = box.lastChild;
      if (kind === "first" && last) last.textContent = (last.textContent ?? "").replace(/ Then go to \d+\.$/, "");
      box.tabIndex = -1;
    }

    /** @param {Element} asked @param {number} at @param {number} all @param {(answer: string) => void} then */
    question(asked, at, all, then) {
      this.part("p", "hb-finder-count", this.box, `Question ${at + 1} of at most ${all}`);
      const words = this.part("p", "hb-finder-ask", this.box);
      const text = /** @type {Element} */ (asked.querySelector(".hb-ask-text")).cloneNode(true);
      words.append(...text.childNodes);
      words.tabIndex = -1;
      const row = this.part("div", "hb-finder-answers", this.box);
      for (const answer of ["Yes", "No"]) this.button(row, answer, () => then(answer));
    }

    /** @param {string[]} answers */
    leave(answers) {
      const row = this.part("div", "hb-finder-leave", this.box);
      this.button(row, answers.length ? "Back" : "Back to what you see", () => history.state?.key ? history.back() : this.go(null));
      if (answers.length) this.button(row, "Start again", () => this.go(null));
    }

    /** @param {Element} row @param {string} label @param {() => void} act */
    button(row, label, act) {
      const made = /** @type {HTMLButtonElement} */ (this.part("button", "hb-button", row, label));
      made.type = "button";
      made.addEventListener("click", act);
    }
  }

  const grid = /** @type {HTMLElement | null} */ (document.querySelector(".hb-symptoms"));
  if (grid) new Finder(grid);
})();
