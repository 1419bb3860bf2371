// A calculator's form and answer in the page, and what an answer is about: window.HandbookPanel. Plain script; it needs
// inputs.js and answer.js before it.
(() => {
  "use strict";

  const { read, nameUnits } = window.HandbookInputs;
  const { paragraph } = window.HandbookAnswer;

  const WORDS = {
    again: "Start again",
    reload: "Load the page again",
  };

  /** Signs of a long text that are kept: some three hundred lines. */
  const KEPT_MOST = 10000;

  /** Words of whoever found the copy itself wrong. */
  const COPY = /copy the whole \w+ again/i;
  const isOfCopy = (text) => COPY.test(text ?? "");

  /** What went wrong, in words for the reader. */
  class Trouble extends Error {
    constructor(text, reload = false) {
      super(text);
      this.plain = true;
      this.reload = reload;
    }
  }

  /** All parts of one calculator that the functions below need. */
  class Panel {
    /** @param {HTMLElement} root */
    constructor(root) {
      this.root = root;
      this.name = root.dataset.calculator;
      this.form = root.querySelector("form");
      this.result = root.querySelector(".hb-result");
      this.status = root.querySelector(".hb-status");
      this.errors = root.querySelector(".hb-errors");
      this.presets = root.querySelector(".hb-presets select");
      this.facts = JSON.parse(root.querySelector(".hb-facts").textContent);
      this.plain = this.facts.plain;
      this.units = this.form.querySelector("[name=units][checked]").value;
      this.preset = [...(this.presets?.options ?? [])].find((each) => each.defaultSelected)?.value ?? "";
      this.line = root.querySelector(".hb-progress");
      this.verdict = root.querySelector(".hb-bar");
      /** The folds of the last answer that a reader had opened, and how high it was.
       * @type {Set<string>} */
      this.open = new Set();
      this.height = 0;
      /** The key of what a row had the form filled from. */
      this.filledFrom = "";
      /** What stood in the form before each step that changes more than one box. */
      this.steps = [];
      /** Counts questions: an answer to any but the last is dropped. */
      this.asked = 0;
      /** What the answer that stands, or is being worked out, is about. */
      this.about = null;
      this.trouble = null;
      /** A reader's pause is being waited for; the next question is sure to come. */
      this.isPaused = false;
      /** Something else than what the page was built with has stood in the form. */
      this.isTouched = false;
      /** What the form can be filled from is on its way, or here.
       * @type {Promise<void> | null} */
      this.stocked = null;
      this.halt = () => {};
      /** Brings the list of our data, where the page does not carry it. */
      this.stock = () => Promise.resolve();
      this.notice = Object.assign(paragraph("hb-notice", ""), { hidden: true });
      this.notice.setAttribute("role", "status");
      this.restart = Object.assign(document.createElement("button"), { type: "button", className: "hb-button hb-again", hidden: true });
      this.restart.dataset.do = "again";
      this.check = window.HandbookParts.checkLink();
      this.check.hidden = true;
      this.form.before(this.restart, this.check, this.notice);
    }

    /** How far a long calculation is; the button beside it ends it with the best so far. */
    progress({ text, share }, halt) {
      this.halt = halt;
      this.restart.hidden = true;
      this.line.hidden = false;
      this.line.querySelector("span").textContent = text;
      const bar = this.line.querySelector("progress");
      if (share == null) bar.removeAttribute("value");
      else bar.value = share;
    }

    done() {
      this.halt = () => {};
      if (this.line.contains(document.activeElement)) this.result.focus();
      this.line.hidden = true;
      this.root.removeAttribute("aria-busy");
      if (!this.trouble) this.restart.hidden = this.check.hidden = true;
    }

    say(text) {
      this.status.textContent = text;
    }

    /** What stays said until the reader does the next thing. */
    note(text) {
      this.notice.textContent = text;
      this.notice.hidden = !text;
    }

    offerRestart(reload) {
      this.restart.textContent = reload ? WORDS.reload : WORDS.again;
      this.restart.hidden = false;
      this.check.hidden = !isOfCopy(this.trouble?.message);
    }

    get isWithdrawn() {
      return this.root.hasAttribute("data-withdrawn");
    }
  }

  /** Everything that an answer depends on and a reader can change. */
  function signature(panel) {
    return JSON.stringify([panel.form.elements.units.value, panel.units, read(panel.form)]);
  }

  function stands(panel) {
    return !panel.isWithdrawn && panel.about === signature(panel);
  }

  /** All that is needed to bring the form back as it stands. */
  function snapshot(panel) {
    return { units: panel.form.elements.units.value, inputs: read(panel.form), preset: panel.preset, from: panel.root.dataset.from, place: window.HandbookHere?.get()?.key ?? "" };
  }

  /** What of it is worth keeping: a log of thousands of lines has no room in a browser's store, and `lacks` says so. */
  function kept(panel) {
    const made = snapshot(panel);
    const long = [...panel.form.querySelectorAll("textarea[name]")].filter((each) => (made.inputs[each.name] ?? "").length > KEPT_MOST);
    if (!long.length) return made;
    const inputs = { ...made.inputs };
    for (const each of long) delete inputs[each.name];
    return { ...made, inputs, lacks: true };
  }

  function useUnits(panel, units) {
    panel.units = units;
    panel.form.elements.units.value = units;
    nameUnits(panel.form, panel.facts.unit_names[units]);
  }

  window.HandbookPanel = { isOfCopy, Panel, Trouble, signature, stands, snapshot, kept, useUnits };
})();
