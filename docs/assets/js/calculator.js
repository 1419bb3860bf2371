// A calculator in the page: reads the form, asks Python, shows the fragment that comes back.
// Plain script, no framework; it needs brief.js, inputs.js, link.js, keep.js, answer.js and presets.js before it. Every text a reader
// sees about a result is written by Python.
(() => {
  "use strict";

  const { read, write, convert, rowCount, addRow, number, follow, nameUnits, isAsBuilt } = window.HandbookInputs;
  const { withdraw, showErrors, clearErrors, paragraph } = window.HandbookAnswer;
  const Link = window.HandbookLink;
  const Keep = window.HandbookKeep;

  /** A reader's pause after a key. */
  const PAUSE_MS = 350;
  const SLOW_MS = 300;

  const WORDS = {
    loading: "Getting the calculator ready …",
    ready: "Ready. It works without a network.",
    working: "Working it out …",
    refused: "Not worked out: some answers cannot be used. They are marked in the form.",
    listed: "Some answers cannot be used; they are listed above the form.",
    mixed: "This page and its calculator are of different editions. Load the page again; if that does not help, copy the whole folder again.",
    broke: "The calculation broke off. What you typed still stands; start the calculator again.",
    quiet: "No answer yet. It may still come; if you do not want to wait, start the calculator again. What you typed stays.",
    built: "The result below is the one that the handbook was built with.",
    none: "There is no result for what stands in the form, so there is nothing to print or copy.",
    cleared: "The form is empty; the choice from our data is taken back too.",
    kept: "What you typed before still stands here.",
    undone: "The last step is taken back.",
    still: (name) => `Changed by hand: the rest is still that of ${name}. Look through it before you rely on the answer.`,
    linked: "Filled in from the link.",
    unused: "Nothing of it was used. What stands in the form is not from the link.",
    emptied: "Nothing of it was used, and the form is empty.",
    again: "Start again",
    reload: "Load the page again",
    lost: "The list is missing: copy the whole handbook again",
  };

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
      /** What the form can be filled from is here, or was asked for. */
      this.isStocked = false;
      this.halt = () => {};
      this.notice = Object.assign(paragraph("hb-notice", ""), { hidden: true });
      this.notice.setAttribute("role", "status");
      this.restart = Object.assign(document.createElement("button"), { type: "button", className: "hb-button hb-again", hidden: true });
      this.restart.dataset.do = "again";
      this.form.before(this.restart, this.notice);
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
      if (!this.trouble) this.restart.hidden = true;
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

  // -- asking ---------------------------------------------------------------------------

  /** The form has changed: what was answered is not about it any more, and what is asked neither. */
  function changed(panel, whose = "reader") {
    panel.root.dataset.from = whose;
    panel.isTouched = true;
    panel.asked++;
    panel.halt();
    panel.done();
    withdraw(panel, panel.trouble ? notWorkedOut(panel.trouble) : WORDS.working, { keepsPlace: !panel.trouble });
    if (panel.root.dataset.state === "ready") panel.say("");
    Keep.save(panel.root.id, snapshot(panel));
  }

  /** All that is needed to bring the form back as it stands. */
  function snapshot(panel) {
    return { units: panel.form.elements.units.value, inputs: read(panel.form), preset: panel.preset, from: panel.root.dataset.from, place: window.HandbookHere?.get()?.key ?? "" };
  }

  /** Keep what stands there before a step that changes more than one box. */
  function remember(panel) {
    panel.steps.push(snapshot(panel));
    panel.form.querySelector('[data-do="undo"]').hidden = false;
  }

  function notWorkedOut(trouble) {
    return `Not worked out. ${trouble.message}`;
  }

  /** Ask Python once; answers that arrive after a newer question, or a newer form, are dropped. */
  async function work(panel, { focus = false } = {}) {
    clearTimeout(panel.pause);
    panel.isPaused = false;
    if (panel.trouble) return stay(panel);
    const about = signature(panel);
    if (!panel.isWithdrawn && panel.about !== about) return check(panel); // filled in without a word
    if (!stands(panel)) withdraw(panel, WORDS.working, { keepsPlace: true });
    panel.about = about;
    const asked = ++panel.asked;
    panel.halt(); // a question still worked on is not wanted any more
    panel.root.setAttribute("aria-busy", "true");
    try {
      const answer = await answered(panel, asked);
      if (asked !== panel.asked) return undefined;
      if (signature(panel) !== about) return check(panel); // as browsers do after Back
      return show(panel, answer, focus);
    } catch (error) {
      return asked === panel.asked && breakOff(panel, error);
    } finally {
      if (asked === panel.asked) panel.done();
    }
  }

  async function answered(panel, asked) {
    const request = {
      units: panel.form.elements.units.value, typed: panel.units, inputs: read(panel.form),
      local: panel.facts.local, rules: panel.facts.rules, html: true,
    };
    const isLast = () => asked === panel.asked;
    await sameEdition(panel);
    const slow = setTimeout(() => isLast() && panel.say(WORDS.working), SLOW_MS);
    try {
      const watch = (progress, halt) => (isLast() ? panel.progress(progress, halt) : halt());
      return JSON.parse(await window.HandbookPython.run(panel.name, JSON.stringify(request), watch, () => isLast() && quiet(panel)));
    } finally {
      clearTimeout(slow);
    }
  }

  /** A page and a calculator of two editions may count differently: they never work together. */
  async function sameEdition(panel) {
    const info = await window.HandbookPython.start();
    const { build } = panel.root.dataset;
    if (build && info.build && build !== info.build) throw new Trouble(WORDS.mixed, true);
  }

  /** Nothing was heard of Python for long. It may be gone; waiting is the reader's choice. */
  function quiet(panel) {
    panel.say(WORDS.quiet);
    if (panel.isWithdrawn) withdraw(panel, WORDS.quiet, { keepsPlace: true });
    panel.offerRestart(false);
  }

  function breakOff(panel, error) {
    panel.trouble = error.plain ? error : new Trouble(WORDS.broke);
    console.info(error.detail ?? error); // for whoever looks after the handbook
    stay(panel);
  }

  /** Nothing is asked before the reader has it started again. */
  function stay(panel) {
    panel.done();
    panel.root.dataset.state = "failed";
    panel.form.elements.units.value = panel.units; // nothing was converted
    if (isAsBuilt(panel.form) && !panel.isWithdrawn) panel.say(`${panel.trouble.message} ${WORDS.built}`);
    else {
      withdraw(panel, notWorkedOut(panel.trouble));
      panel.say(notWorkedOut(panel.trouble));
    }
    panel.offerRestart(panel.trouble.reload);
  }

  function show(panel, answer, focus) {
    showErrors(panel, answer.errors ?? [], focus);
    if (answer.errors) {
      panel.form.elements.units.value = panel.units;
      panel.about = signature(panel);
      withdraw(panel, WORDS.refused);
      panel.verdict.textContent = panel.wrong;
      panel.say(WORDS.listed);
      return;
    }
    window.HandbookAnswer.show(panel, answer);
    if (panel.units !== answer.units) {
      panel.units = answer.units;
      convert(panel.form, answer.inputs, panel.facts.unit_names[answer.units]);
      panel.about = signature(panel);
    }
    panel.say(answer.headline);
    if (focus) panel.result.focus();
  }

  /** The form may have been filled in without an event: by Back, by a reload, by a browser's helper. */
  function check(panel) {
    if (panel.presets) panel.presets.value = panel.preset;
    if (panel.isPaused || panel.about === signature(panel)) return undefined;
    useUnits(panel, panel.form.elements.units.value);
    follow(panel.form);
    clearErrors(panel);
    changed(panel);
    return ask(panel);
  }

  function ask(panel, options) {
    return panel.started ? work(panel, options) : start(panel, options);
  }

  // -- what the reader presses ----------------------------------------------------------

  /** Put other values into the form; nobody typed them, so nothing is waited for. */
  function fill(panel, whose, { units = panel.units, inputs = {} }, preset = "") {
    panel.note("");
    panel.preset = preset;
    if (panel.presets) panel.presets.value = preset;
    clearErrors(panel);
    useUnits(panel, units);
    write(panel.form, inputs);
    // What the data hold is not asked again.
    for (const part of panel.form.querySelectorAll("[data-known]")) part.open = !preset;
    changed(panel, whose);
    ask(panel);
  }

  function refill(panel, ...what) {
    remember(panel);
    forgetLink();
    fill(panel, ...what);
  }

  /** An address that carries other values than the form would bring them back. */
  function forgetLink() {
    if (!Link.isOne(location.hash)) return;
    try {
      history.replaceState(history.state, "", location.href.split("#")[0]);
    } catch {
      // A browser that refuses it for a file: the address stays as it was opened.
    }
  }

  const DO = {
    stop: (panel) => panel.halt(),
    again: (panel) => {
      if (panel.trouble?.reload) return location.reload();
      panel.trouble = null;
      panel.started = false;
      panel.restart.hidden = true;
      window.HandbookPython.stop();
      start(panel);
      panel.result.focus();
    },
    clear: (panel) => {
      refill(panel, "reader", {});
      panel.note(WORDS.cleared);
    },
    example: (panel) => refill(panel, "example", panel.facts.example),
    undo: (panel, button) => {
      const { units, inputs, preset, from } = panel.steps.pop();
      fill(panel, from, { units, inputs }, preset);
      panel.note(WORDS.undone);
      button.hidden = !panel.steps.length;
      if (button.hidden) panel.form.querySelector('[data-do="example"]').focus();
    },
    add: (panel, button) => {
      const rows = button.closest("[data-rows]");
      if (rowCount(rows) >= Number(rows.dataset.most)) return panel.say(`There may be ${rows.dataset.most} of them at most.`);
      const row = addRow(rows);
      number(rows);
      row.querySelector("[name]").focus();
      edited(panel);
    },
    remove: (panel, button) => rearrange(panel, button, (row, rows) => {
      row.remove();
      return rows.querySelector('[data-do="add"]');
    }),
    double: (panel, button) => rearrange(panel, button, (row, rows) => {
      if (rowCount(rows) >= Number(rows.dataset.most)) return button;
      const copy = row.cloneNode(true);
      // A clone has the words of its lists as they were built, not as they were chosen.
      row.querySelectorAll("[name]").forEach((each, at) => (copy.querySelectorAll("[name]")[at].value = each.value));
      row.after(copy);
      return copy.querySelector("[name]");
    }),
    up: (panel, button) => rearrange(panel, button, (row) => {
      row.previousElementSibling?.before(row);
      return button;
    }),
    down: (panel, button) => rearrange(panel, button, (row) => {
      row.nextElementSibling?.after(row);
      return button;
    }),
    print: (panel) => withAnswer(panel, () => window.print()),
    copy: (panel) => withAnswer(panel, () => copy(panel, panel.plain, "The result is copied.")),
    link: (panel) => withAnswer(panel, () => copy(panel, linkOf(panel), "The link is copied; it carries what you typed.")),
  };

  /** Change the order or number of rows; `act` gives back what is in hand afterwards. */
  function rearrange(panel, button, act) {
    remember(panel);
    const rows = button.closest("[data-rows]");
    clearErrors(panel);
    const next = act(button.closest(".hb-row"), rows);
    number(rows);
    next.focus();
    edited(panel, 0);
  }

  function withAnswer(panel, act) {
    check(panel);
    if (stands(panel)) act();
    else panel.say(WORDS.none);
  }

  function useUnits(panel, units) {
    panel.units = units;
    panel.form.elements.units.value = units;
    nameUnits(panel.form, panel.facts.unit_names[units]);
  }

  function linkOf(panel) {
    return Link.make({ calculator: panel.name, units: panel.units, rules: panel.facts.rules, inputs: read(panel.form) });
  }

  async function copy(panel, text, done) {
    try {
      await navigator.clipboard.writeText(text);
      panel.say(done);
    } catch {
      // A page opened as a file may not have the clipboard; show the text to copy by hand.
      if (!stands(panel)) return;
      const box = document.createElement("textarea");
      box.value = text;
      box.setAttribute("aria-label", "Copy this text");
      box.readOnly = true;
      box.className = "hb-copy";
      panel.root.querySelector(".hb-copy")?.remove();
      panel.root.querySelector(".hb-after").after(box);
      box.select();
      panel.say("Copy the marked text.");
    }
  }

  // -- links ----------------------------------------------------------------------------

  /** Take the link in the address, if there is one: at the start, and when one arrives later. */
  function arrive(panels) {
    if (!Link.isOne(location.hash)) return;
    let panel = panels[0];
    try {
      const link = Link.read(location.hash);
      panel = panels.find((each) => each.name === link.calculator) ?? panel;
      Link.check(link, panel.name, panel.form);
      take(panel, link);
    } catch (error) {
      if (!(error instanceof Link.Unusable)) throw error;
      refuse(panel, error.message);
    }
    panel.root.scrollIntoView();
  }

  function take(panel, link) {
    if (panel.isTouched) remember(panel);
    fill(panel, "reader", link);
    panel.note([WORDS.linked, Link.remark(link, panel.facts.rules)].filter(Boolean).join(" "));
  }

  /** What a reader typed stays; an example must not stand there as if it were the link's. */
  function refuse(panel, text) {
    const isTheirs = panel.root.dataset.from === "reader";
    if (isTheirs) forgetLink();
    else fill(panel, "", {});
    panel.note(`${text} ${isTheirs ? WORDS.unused : WORDS.emptied}`);
  }

  // -- beginning ------------------------------------------------------------------------

  /** The reader changed something: the answer goes at once, the next comes after a pause. */
  function edited(panel, pause = PAUSE_MS) {
    follow(panel.form);
    panel.note("");
    forgetLink();
    changed(panel);
    clearTimeout(panel.pause);
    panel.isPaused = true;
    panel.pause = setTimeout(() => ask(panel), pause);
  }

  function listen(panel) {
    panel.form.addEventListener("submit", (event) => {
      event.preventDefault();
      ask(panel, { focus: true });
    });
    panel.form.addEventListener("input", (event) => {
      edited(panel, event.target.name === "units" ? 0 : PAUSE_MS);
      byHand(panel, event.target);
    });
    // Without a button to send it, a form of several boxes knows no Enter.
    panel.form.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" || !event.target.matches("input[type=text]")) return;
      event.preventDefault();
      ask(panel);
    });
    panel.verdict.addEventListener("click", (event) => {
      event.preventDefault();
      const wrong = panel.errors.querySelector("a");
      if (wrong) return wrong.click();
      panel.result.scrollIntoView();
      panel.result.focus({ preventScroll: true });
    });
    // Not every browser tells of a chosen word or a pressed button while it is being put in.
    panel.form.addEventListener("change", () => panel.about === signature(panel) || panel.isPaused || edited(panel, 0));
    panel.root.addEventListener("click", (event) => {
      const button = event.target.closest("[data-do]");
      if (button) DO[button.dataset.do](panel, button);
    });
    panel.presets?.addEventListener("change", () => {
      const preset = panel.facts.presets[Number(panel.presets.value || NaN)];
      if (preset) refill(panel, "reader", preset, panel.presets.value);
      else panel.preset = "";
    });
  }

  /** What came from our data and was changed by hand is not that of our data any more; the rest of it may not fit. */
  function byHand(panel, control) {
    if (!panel.preset || !control.closest("[data-known]")) return;
    const name = panel.presets.selectedOptions[0].textContent;
    panel.preset = "";
    panel.presets.value = "";
    panel.note(WORDS.still(name));
  }

  /** Bring the list of our data, where the page does not carry it; the calculator works without. */
  async function stock(panel) {
    const { presets: address } = panel.root.dataset;
    if (!address || panel.isStocked) return;
    panel.isStocked = true;
    try {
      panel.facts.presets = await window.HandbookPresets.load(address, panel.name);
      window.HandbookPresets.list(panel.presets, panel.facts.presets);
      panel.presets.value = panel.preset;
      fillHere(panel);
      choose(panel);
    } catch {
      const lost = new Option(WORDS.lost);
      lost.disabled = true;
      panel.presets.append(lost);
    }
  }

  /** Show what the form was filled from, where that was before its list had come. */
  function choose(panel) {
    const at = panel.facts.presets.findIndex((each) => each.key === panel.filledFrom);
    if (at < 0 || panel.preset || panel.root.dataset.from !== "data") return;
    panel.preset = panel.presets.value = String(at);
  }

  async function start(panel, options = {}) {
    stock(panel);
    if (panel.started) return;
    panel.started = true;
    panel.root.dataset.state = "loading";
    panel.say(WORDS.loading);
    await work(panel, options);
    if (panel.trouble) return;
    panel.root.dataset.state = "ready";
    if (!panel.isTouched) panel.say(WORDS.ready);
  }

  /** All panels of the page, those opened over it too. */
  const panels = [];

  /** Python is fetched only where a calculator is about to be seen or used. */
  const seen = new IntersectionObserver((entries) => {
    for (const entry of entries) if (entry.isIntersecting) start(panels.find((each) => each.root === entry.target));
  }, { rootMargin: "300px" });

  /** Beside the end of a long form the answer's head leaves a wide screen too: then the line at the edge tells it. */
  const away = new IntersectionObserver((entries) => {
    for (const { target, boundingClientRect: { top } } of entries) target.closest("[data-calculator]").toggleAttribute("data-away", top < 0);
  }, { threshold: Array.from({ length: 41 }, (_, at) => at / 40) });

  /** Bring a calculator to life. @param {HTMLElement} root @param {(panel: Panel) => void} first fills a form that nobody has used yet */
  function mount(root, first = () => {}) {
    const panel = new Panel(root);
    panels.push(panel);
    follow(panel.form);
    panel.say("");
    listen(panel);
    if (isAsBuilt(panel.form)) panel.about = signature(panel);
    panel.form.addEventListener("focusin", () => start(panel), { once: true });
    seen.observe(root);
    away.observe(root.querySelector(".hb-answer"));
    if (!comeBack(panel)) first(panel);
    root.dispatchEvent(new CustomEvent("handbook-form", { bubbles: true }));
    return panel;
  }

  /** Where the reader is fills a form that nobody has used yet. */
  function fillHere(panel) {
    const place = window.HandbookHere?.get();
    if (!place || panel.root.dataset.from === "reader" || Link.isOne(location.hash)) return;
    const at = presetFor(panel, place);
    if (at >= 0) fill(panel, "data", panel.facts.presets[at], String(at));
  }

  /** The reader is somewhere else: what was typed for the last place must not stand under the name of this one. */
  function moved(panel) {
    if (presetFor(panel, window.HandbookHere.get()) < 0) return;
    remember(panel);
    panel.root.dataset.from = "data";
    fillHere(panel);
  }

  /** That of the site; else of its cabinet. */
  function presetFor(panel, { key, machine }) {
    const keys = panel.facts.presets.map((each) => each.key);
    return keys.includes(key) ? keys.indexOf(key) : keys.indexOf(machine);
  }

  function begin() {
    for (const root of document.querySelectorAll("[data-calculator]")) mount(root, fillHere);
    document.addEventListener("handbook-here", ({ detail }) => detail && panels.forEach(moved));
    if (panels.length) arrive(panels);
    for (const panel of panels) check(panel);
    addEventListener("hashchange", () => panels.length && arrive(panels));
    addEventListener("pageshow", ({ persisted }) => panels.forEach((panel) => back(panel, persisted)));
    addEventListener("beforeprint", () => {
      for (const panel of panels) check(panel);
    });
    // The theme opens every fold before printing: remember which ones a reader opened.
    document.addEventListener("click", ({ target }) => {
      const fold = target.closest(".hb-more > summary, .hb-details > summary")?.parentElement;
      fold?.classList.toggle("hb-wanted", !fold.open);
    });
  }

  /** After a reload, or Back from another page, the form stands as it was left. */
  function comeBack(panel) {
    const left = Link.isOne(location.hash) ? null : Keep.read(panel.root.id);
    // What nobody typed is filled in anew: the data, or the place, may be another by now.
    // So is what was typed at another place than the header names.
    if (left?.from !== "reader" || left.place !== (window.HandbookHere?.get()?.key ?? "") || isSame(left, panel)) return false;
    fill(panel, left.from, left, left.preset);
    panel.note(WORDS.kept);
    return true;
  }

  function isSame(left, panel) {
    return JSON.stringify([left.units, left.inputs]) === JSON.stringify([panel.units, read(panel.form)]);
  }

  /** After Back some browsers fill the form in again, and a kept page may have lost its Python. */
  function back(panel, persisted) {
    check(panel);
    if (!persisted || !panel.started || panel.isPaused) return;
    changed(panel, panel.root.dataset.from);
    work(panel);
  }

  window.HandbookCalculator = { mount, fill, fillHere };
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
  else begin();
})();
