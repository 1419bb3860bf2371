// What a reader does to a form, and what its buttons do: window.HandbookPressed. Plain script; it needs inputs.js,
// link.js, answer.js, panel.js and asking.js before it.
(() => {
  "use strict";

  const { read, write, rowCount, addRow, number, follow } = window.HandbookInputs;
  const { clearErrors } = window.HandbookAnswer;
  const { signature, stands, snapshot, useUnits } = window.HandbookPanel;
  const { changed, check, ask, start } = window.HandbookAsking;
  const Link = window.HandbookLink;

  /** A reader's pause after a key. */
  const PAUSE_MS = 350;

  const WORDS = {
    none: "There is no result for what stands in the form, so there is nothing to print or copy.",
    cleared: "The form is empty; the choice from our data is taken back too.",
    undone: "The last step is taken back.",
    linked: "The link is copied; it carries what you typed.",
    lighter: "The link is copied. It carries what you typed, but not the log: send the file beside it.",
    still: (name) => `Changed by hand: the rest is still that of ${name}. Look through it before you rely on the answer.`,
  };

  /** Keep what stands there before a step that changes more than one box. */
  function remember(panel) {
    panel.steps.push(snapshot(panel));
    panel.form.querySelector('[data-do="undo"]').hidden = false;
  }

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
      panel.restart.hidden = panel.check.hidden = true;
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
    link: (panel) => withAnswer(panel, () => copy(panel, linkOf(panel), longOnes(panel).length ? WORDS.lighter : WORDS.linked)),
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

  function longOnes(panel) {
    return [...panel.form.querySelectorAll("textarea[name]")].filter((each) => each.value.trim());
  }

  /** No address carries a log: of ten thousand lines hardly any program would take it along whole. */
  function linkOf(panel) {
    const inputs = read(panel.form);
    for (const each of longOnes(panel)) delete inputs[each.name];
    return Link.make({ calculator: panel.name, units: panel.units, rules: panel.facts.rules, inputs });
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

  window.HandbookPressed = { fill, refill, remember, forgetLink, listen };
})();
