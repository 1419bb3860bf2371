// The calculators of a page: brought to life, filled from a link, from our data, from where the reader is, or with what was
// typed before. Plain script, no framework; it needs brief.js, inputs.js, link.js, keep.js, answer.js, presets.js, panel.js,
// asking.js and pressed.js before it.
(() => {
  "use strict";

  const { read, follow, isAsBuilt } = window.HandbookInputs;
  const { Panel, signature, isOfCopy } = window.HandbookPanel;
  const { changed, work, check, start, damaged } = window.HandbookAsking;
  const { fill, remember, forgetLink, listen } = window.HandbookPressed;
  const Link = window.HandbookLink;
  const Keep = window.HandbookKeep;

  const WORDS = {
    kept: "What you typed before still stands here.",
    lacks: "What you typed before still stands here, but not the log, which was too long to keep: open it again.",
    linked: "Filled in from the link.",
    unused: "Nothing of it was used. What stands in the form is not from the link.",
    emptied: "Nothing of it was used, and the form is empty.",
    lost: "The list is missing: copy the whole handbook again",
  };

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

  /** Bring the list of our data, where the page does not carry it; the calculator works without. */
  async function stock(panel) {
    const { presets: address } = panel.root.dataset;
    if (!address) return;
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
    panel.stock = () => (panel.stocked ??= stock(panel));
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

  /** Where the reader is fills a form that nobody has used yet. @returns {boolean} whether it did */
  function fillHere(panel) {
    const place = window.HandbookHere?.get();
    if (!place || panel.root.dataset.from === "reader" || Link.isOne(location.hash)) return false;
    const at = presetFor(panel, place);
    if (at >= 0) fill(panel, "data", panel.facts.presets[at], String(at));
    return at >= 0;
  }

  /** The reader is somewhere else: what was typed for the last place must not stand under the name of this one. */
  async function moved(panel) {
    if (panel.root.dataset.presets) await panel.stock();
    if (!window.HandbookHere.get() || presetFor(panel, window.HandbookHere.get()) < 0) return;
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
    window.HandbookPython.onstate((state, message) => {
      if (state === "failed" && isOfCopy(message)) for (const panel of panels) damaged(panel, message);
    });
    addEventListener("hashchange", () => panels.length && arrive(panels));
    addEventListener("pageshow", ({ persisted }) => {
      panels.forEach((panel) => back(panel, persisted));
      // Filled in once the page is shown: the answer may be there already.
      setTimeout(() => panels.forEach(check));
    });
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
    panel.note(left.lacks ? WORDS.lacks : WORDS.kept);
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
