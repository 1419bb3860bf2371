// Asks Python what stands in a form, and shows what comes back or why nothing came: window.HandbookAsking. Plain script; it
// needs inputs.js, keep.js, answer.js and panel.js before it. Every text a reader sees about a result is written by Python.
(() => {
  "use strict";

  const { question, convert, follow, isAsBuilt } = window.HandbookInputs;
  const { withdraw, showErrors, clearErrors } = window.HandbookAnswer;
  const { Trouble, signature, stands, kept, useUnits } = window.HandbookPanel;
  const Keep = window.HandbookKeep;

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
  };

  /** The form has changed: what was answered is not about it any more, and what is asked neither. */
  function changed(panel, whose = "reader") {
    panel.root.dataset.from = whose;
    panel.isTouched = true;
    panel.asked++;
    panel.halt();
    panel.done();
    withdraw(panel, panel.trouble ? notWorkedOut(panel.trouble) : WORDS.working, { keepsPlace: !panel.trouble });
    if (panel.root.dataset.state === "ready") panel.say("");
    Keep.save(panel.root.id, kept(panel));
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
    const request = question(panel.form, panel.units, panel.facts);
    const isLast = () => asked === panel.asked;
    await sameEdition(panel);
    const slow = setTimeout(() => isLast() && panel.say(WORDS.working), SLOW_MS);
    try {
      const watch = (progress, halt) => (isLast() ? panel.progress(progress, halt) : halt());
      const early = (text) => isLast() && first(panel, JSON.parse(text).early);
      return JSON.parse(await window.HandbookPython.run(panel.name, JSON.stringify(request), watch, () => isLast() && quiet(panel), early));
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

  /** What Python needs only later was found damaged, while nothing was asked. */
  function damaged(panel, message) {
    const isAtRest = panel.root.dataset.state === "ready" && !panel.root.hasAttribute("aria-busy");
    if (isAtRest) breakOff(panel, new Trouble(message));
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

  /** An answer that comes soon, before the full one; never over one that stands, nor in other units than the form's. */
  function first(panel, answer) {
    const isAbout = panel.units === answer.units && panel.about === signature(panel);
    if (isAbout && panel.isWithdrawn) window.HandbookAnswer.put(panel, answer);
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

  async function start(panel, options = {}) {
    panel.stock();
    if (panel.started) return;
    panel.started = true;
    panel.root.dataset.state = "loading";
    panel.say(WORDS.loading);
    await work(panel, options);
    if (panel.trouble) return;
    panel.root.dataset.state = "ready";
    performance.mark("handbook-answered"); // for `bench`
    if (!panel.isTouched) panel.say(WORDS.ready);
  }

  window.HandbookAsking = { changed, work, check, ask, start, damaged };
})();
