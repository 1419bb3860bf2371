// The form of a cabinet's card: what is written stays on this device, and goes back as rows of cards.csv.
// Plain script; it needs store.js and rows.js before it.
(() => {
  "use strict";

  const FILE = "cards.csv";
  const HEAD = ["machine", "item", "text", "picture", "note"];
  const WORDS = {
    count: (lacking, all) => (lacking ? `${lacking} of ${all} lines are blank.` : `All ${all} lines are filled in.`),
    saved: (count) => `${count} rows are saved in ${FILE}: put them in place of this model’s rows, and build again.`,
    forgotten: "What was written here is forgotten; the card’s own words stand again.",
    back: "It is back.",
  };

  class CardForm {
    /** @param {HTMLElement} root */
    constructor(root) {
      this.root = root;
      this.facts = JSON.parse(root.querySelector("#hb-card-facts").textContent);
      this.choice = root.querySelector("select");
      this.lines = [...root.querySelectorAll("[data-item]")];
      this.shelf = window.HandbookStore.shelf("cards", {}, usable);
      const { value, problem } = this.shelf.read();
      this.written = value;
      root.querySelector(".hb-status").hidden = true;
      root.querySelector(".hb-card-bar").hidden = false;
      const here = window.HandbookHere?.get()?.machine;
      if (here && this.facts.have[here]) this.choice.value = here;
      this.choice.addEventListener("change", () => this.show());
      for (const line of this.lines) line.querySelector("textarea").addEventListener("input", () => this.keep(line));
      for (const button of root.querySelectorAll("[data-do]")) button.addEventListener("click", () => this[button.dataset.do]());
      this.shelf.watch(() => {
        this.written = this.shelf.read().value;
        this.show();
      });
      this.show();
      this.say(problem);
    }

    /** What stands on the line of an item: what was written here, else the card's own words. */
    words(item) {
      return this.written[this.choice.value]?.[item] ?? this.facts.said[this.choice.value]?.[item] ?? "";
    }

    show() {
      const have = this.facts.have[this.choice.value] ?? [];
      for (const line of this.lines) {
        const box = line.querySelector("textarea");
        line.hidden = !have.includes(line.dataset.item);
        if (box.value !== this.words(line.dataset.item)) box.value = this.words(line.dataset.item);
      }
      this.count();
    }

    count() {
      const have = this.facts.have[this.choice.value] ?? [];
      this.root.querySelector(".hb-card-count").textContent = WORDS.count(have.filter((item) => !this.words(item).trim()).length, have.length);
    }

    keep(line) {
      const model = this.choice.value;
      const value = line.querySelector("textarea").value;
      this.written = { ...this.written, [model]: { ...this.written[model], [line.dataset.item]: value } };
      this.say(this.shelf.write(this.written));
      this.count();
    }

    rows() {
      const model = this.choice.value;
      const filled = (this.facts.have[model] ?? []).filter((item) => this.words(item).trim());
      const rows = filled.map((item) => [model, item, this.words(item).replace(/\s+/g, " ").trim(), "", ""]);
      window.HandbookRows.download(FILE, window.HandbookRows.write([HEAD, ...rows]), "text/csv");
      this.say(WORDS.saved(rows.length));
    }

    forget() {
      const before = this.written;
      const { [this.choice.value]: _, ...others } = this.written;
      this.put(others, WORDS.forgotten);
      const undo = document.createElement("button");
      undo.type = "button";
      undo.className = "hb-button";
      undo.textContent = "Undo";
      undo.addEventListener("click", () => this.put(before, WORDS.back));
      this.root.querySelector(".hb-said").append(" ", undo);
    }

    put(written, told) {
      this.written = written;
      this.say(this.shelf.write(written) || told);
      this.show();
    }

    print() {
      print();
    }

    say(text) {
      this.root.querySelector(".hb-said").textContent = text;
    }
  }

  function usable(value) {
    const isTable = (table) => typeof table === "object" && table !== null && !Array.isArray(table);
    return isTable(value) && Object.values(value).every((lines) => isTable(lines) && Object.values(lines).every((text) => typeof text === "string"));
  }

  document.addEventListener("DOMContentLoaded", () => {
    const root = document.querySelector("[data-card-form]");
    if (root) new CardForm(root);
  });
})();
