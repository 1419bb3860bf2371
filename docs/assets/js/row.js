// A calculator in the step of a procedure: a closed row that opens it over the page and takes its answer back, for the
// row, the record and the paper. Plain script; it needs parts.js, store.js and calculator.js before it. Without it the row is a
// link to the calculator's own page.
(() => {
  "use strict";

  const PAGE = location.pathname.split("/").slice(-2).join("/").replace(/\.html$/, "");
  const WORDS = {
    back: "Back to the step",
    none: "Not worked out here yet.",
    missing: "This part of the handbook is missing or damaged: copy the whole folder again.",
    at: (when) => `Worked out ${when}`,
    data: (remark) => `Filled in from our data. ${remark} Choose or type your own before you rely on the answer.`,
  };

  const { placeNow } = window.HandbookStore;
  const shelf = window.HandbookStore.placed(`answers ${PAGE}`, {}, usable);

  function usable(value) {
    return typeof value === "object" && value !== null && !Array.isArray(value)
      && Object.values(value).every((each) => ["outcome", "sign", "word", "brief", "at"].every((key) => typeof each?.[key] === "string"));
  }

  class Row {
    /** @param {HTMLElement} root @param {number} number which of the page's rows for its calculator */
    constructor(root, number) {
      this.root = root;
      this.name = root.dataset.calculatorRow;
      this.key = number ? `${this.name} ${number + 1}` : this.name;
      this.last = root.querySelector(".hb-last");
      this.link = root.querySelector(".hb-open");
      this.facts = JSON.parse(root.querySelector(".hb-facts").textContent);
      this.link.addEventListener("click", (event) => {
        event.preventDefault();
        this.open();
      });
      this.show(shelf.read().value[this.key]);
    }

    async open() {
      await left;
      this.sheet ??= await this.made().catch(() => null);
      if (!this.sheet) {
        this.last.replaceChildren(WORDS.missing, window.HandbookParts.checkLink());
        return;
      }
      this.sheet.showModal();
      this.sheet.scrollTop = 0;
      visit(this.sheet);
    }

    /** The calculator over the page, filled in with what was answered last or with what our data hold. */
    async made() {
      const sheet = document.createElement("dialog");
      sheet.className = "hb-sheet-over";
      sheet.setAttribute("aria-label", this.root.getAttribute("aria-label"));
      const back = Object.assign(document.createElement("button"), { type: "button", className: "hb-button hb-back", textContent: `← ${WORDS.back}` });
      back.addEventListener("click", () => sheet.close());
      sheet.append(back, ...parsed((await window.HandbookParts.load(this.root.dataset.form, `form-${this.name}`)).html));
      const section = sheet.querySelector("[data-calculator]");
      if (section.dataset.presets) section.dataset.presets = this.root.dataset.form.replace(/assets\/.*/, "") + section.dataset.presets.replace(/^(\.\.\/)+/, "");
      section.id = `${this.root.id}-over`;
      this.root.append(sheet);
      sheet.addEventListener("close", () => this.closed());
      this.panel = window.HandbookCalculator.mount(section, (panel) => this.fill(panel));
      section.addEventListener("handbook-answer", ({ detail }) => (this.answer = detail));
      return sheet;
    }

    fill(panel) {
      const last = shelf.read().value[this.key];
      const kept = last && (last.place ?? "") === placeNow() ? last : undefined;
      const { units, inputs, preset, remark = "" } = kept ?? this.facts;
      panel.filledFrom = preset;
      window.HandbookCalculator.fill(panel, kept ? "reader" : "data", { units, inputs }, preset ? presetOf(panel, preset) : "");
      if (!kept && preset) panel.note(WORDS.data(remark));
      if (!kept && window.HandbookHere?.get()) this.fillHere(panel);
    }

    /** Said by the reader, the place is theirs: so is the answer, once what our data say of the place stands there. */
    async fillHere(panel) {
      if (panel.root.dataset.presets) await panel.stock();
      if (window.HandbookCalculator.fillHere(panel)) panel.root.dataset.from = "reader";
    }

    /** What stands in the calculator when it is closed is the answer of this step; what nobody touched is not. */
    closed() {
      leave();
      this.link.focus();
      if (this.panel.root.dataset.from !== "reader") return;
      const { answer } = this;
      const made = answer && {
        outcome: answer.outcome, sign: answer.sign, word: answer.word, brief: answer.brief, at: new Date().toISOString(), place: placeNow(),
        units: this.panel.units, inputs: window.HandbookPanel.kept(this.panel).inputs, preset: "",
      };
      this.keep(made);
    }

    /** Another job: nothing of the last one stands in the calculator. */
    begin(made) {
      this.sheet?.remove();
      this.sheet = this.answer = undefined;
      window.HandbookKeep.forget(`${this.root.id}-over`);
      this.show(made);
    }

    keep(made) {
      const kept = shelf.read().value;
      if (made) kept[this.key] = made;
      else delete kept[this.key];
      const problem = shelf.write(kept);
      this.show(made);
      if (problem) this.last.append(` ${problem}`);
      const text = made ? `${made.word}. ${made.brief} (${[window.HandbookHere?.get()?.name, when(made.at)].filter(Boolean).join(", ")})` : "";
      this.root.dispatchEvent(new CustomEvent("handbook-row", { bubbles: true, detail: { name: this.name, text } }));
    }

    /** An answer is about the place where it was worked out; at another one there is none. */
    show(kept) {
      const made = kept && (kept.place ?? "") === placeNow() ? kept : undefined;
      this.root.toggleAttribute("data-answered", Boolean(made));
      if (!made) {
        this.last.textContent = WORDS.none;
        return;
      }
      const sign = Object.assign(document.createElement("span"), { className: "hb-sign", textContent: made.sign });
      sign.setAttribute("aria-hidden", "true");
      const badge = Object.assign(document.createElement("span"), { className: `hb-badge hb-badge--${made.outcome}` });
      badge.append(sign, ` ${made.word}`);
      const at = Object.assign(document.createElement("span"), { className: "hb-small", textContent: WORDS.at(when(made.at)) });
      this.last.replaceChildren(badge, ` ${made.brief} `, at);
    }
  }

  function when(text) {
    return new Date(text).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
  }

  function presetOf(panel, key) {
    const at = panel.facts.presets.findIndex((each) => each.key === key);
    return at < 0 ? "" : String(at);
  }

  function parsed(text) {
    return new DOMParser().parseFromString(text, "text/html").body.childNodes;
  }

  // -- Back, as the phone has it ----------------------------------------------------------

  /** @type {HTMLDialogElement | null} the calculator that is open, where the browser counts it as a place to go back from */
  let visited = null;
  /** The last way back is over: a new place comes after it. */
  let left = Promise.resolve();

  function visit(sheet) {
    try {
      history.pushState({ ...history.state, sheet: true }, "");
      visited = sheet;
    } catch {
      // A browser that refuses it for a file: Back leaves the page, as without the calculator.
    }
  }

  function leave() {
    if (!visited) return;
    visited = null;
    left = new Promise((resolve) => addEventListener("popstate", resolve, { once: true }));
    history.back();
  }

  addEventListener("popstate", () => {
    const sheet = visited;
    visited = null;
    sheet?.close();
  });

  function begin() {
    const seen = new Map();
    const rows = [...document.querySelectorAll("[data-calculator-row]")].map((root) => {
      const number = seen.get(root.dataset.calculatorRow) ?? 0;
      seen.set(root.dataset.calculatorRow, number + 1);
      return new Row(root, number);
    });
    document.addEventListener("handbook-here", () => rows.forEach((row) => row.begin(shelf.read().value[row.key])));
    shelf.watch(() => rows.forEach((row) => row.show(shelf.read().value[row.key])));
    window.HandbookRows = {
      read: () => shelf.read().value,
      /** Put back what read() gave: a checklist that is opened or begun anew takes its answers along. */
      write(kept) {
        shelf.write(usable(kept) ? kept : {});
        for (const row of rows) row.begin(kept[row.key]);
      },
    };
  }

  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
  else begin();
})();
