// A calculator in the page: reads the form, asks Python, shows the fragment that comes back.
// Plain script, no framework; every text a reader sees about a result is written by Python.
(() => {
  "use strict";

  const WORDS = {
    loading: "Getting the calculator ready …",
    ready: "Ready. It works without a network.",
    failed: "The calculator cannot run in this browser",
  };

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
      this.facts = JSON.parse(root.querySelector(".hb-facts").textContent);
      this.plain = this.facts.plain;
      this.units = this.form.elements.units.value;
      this.asked = 0;
      this.line = root.querySelector(".hb-progress");
      this.halt = () => {};
    }

    /** How far a long calculation is; the button beside it ends it with the best so far. */
    progress({ text, share }, halt) {
      this.halt = halt;
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
    }

    say(text) {
      this.status.textContent = text;
    }

    state(state, message) {
      this.root.dataset.state = state;
      this.say(state === "failed" ? `${WORDS.failed}: ${message} The example still shows how it is done.` : WORDS[state]);
    }
  }

  /** The form's values as nested inputs; blank ones are left out. */
  function read(form) {
    const inputs = {};
    for (const control of form.querySelectorAll("input[name], select[name]")) {
      const value = control.value.trim();
      if (control.type === "radio" || !value || control.closest("[hidden]")) continue;
      put(inputs, control.name.split("."), value);
    }
    for (const rows of form.querySelectorAll("[data-rows]")) {
      const list = inputs[rows.dataset.rows] || [];
      const count = rows.querySelectorAll(".hb-row").length;
      inputs[rows.dataset.rows] = Array.from({ length: count }, (_, i) => list[i] || {});
    }
    return inputs;
  }

  function put(target, path, value) {
    if (path.length === 1) target[path[0]] = value;
    else {
      const list = (target[path[0]] ||= []);
      (list[Number(path[1])] ||= {})[path[2]] = value;
    }
  }

  /** Write inputs into the form, making as many rows as they hold. */
  function write(panel, inputs) {
    for (const rows of panel.form.querySelectorAll("[data-rows]")) {
      const wanted = (inputs[rows.dataset.rows] || []).length;
      while (rows.querySelectorAll(".hb-row").length > wanted) rows.querySelector(".hb-row").remove();
      while (rows.querySelectorAll(".hb-row").length < wanted) addRow(rows);
      number(rows);
    }
    for (const control of panel.form.querySelectorAll("input[name], select[name]")) {
      if (control.type !== "radio") control.value = withoutUnit(control, lookUp(inputs, control.name.split(".")));
    }
    showWhen(panel.form);
  }

  function lookUp(inputs, path) {
    let value = inputs;
    for (const key of path) value = value == null ? undefined : value[key];
    if (typeof value === "boolean") return value ? "yes" : "no";
    return value == null ? "" : String(value);
  }

  /** The unit stands beside the box already; a value in another unit keeps its own. */
  function withoutUnit(control, value) {
    const unit = control.parentElement.querySelector(".hb-unit");
    const tail = unit ? ` ${unit.textContent}` : "";
    return tail && value.endsWith(tail) ? value.slice(0, -tail.length) : value;
  }

  function addRow(rows) {
    const row = rows.querySelector("template").content.firstElementChild.cloneNode(true);
    rows.querySelector("div").append(row);
    return row;
  }

  /** Rows are numbered afresh after each change, so that names and labels stay in order. */
  function number(rows) {
    rows.querySelectorAll(".hb-row").forEach((row, index) => {
      row.querySelector("legend").textContent = `${row.dataset.noun} ${index + 1}`;
      for (const part of row.querySelectorAll("[name], [id], [for], [aria-describedby]")) {
        for (const mark of ["name", "id", "for", "aria-describedby"]) {
          const old = part.getAttribute(mark);
          if (old) part.setAttribute(mark, old.replace(/([.-])(?:#|\d+)([.-][^.]*)$/, `$1${index}$2`));
        }
      }
    });
  }

  /** Show a field only where the field it depends on has one of its values. */
  function showWhen(form) {
    for (const field of form.querySelectorAll("[data-when]")) {
      const control = field.querySelector("[name]");
      const path = control.name.split(".");
      path[path.length - 1] = field.dataset.when;
      const other = form.elements[path.join(".")];
      field.hidden = !other || !field.dataset.is.split(" ").includes(other.value);
    }
  }

  /** Ask Python once; answers that arrive after a newer question are dropped. */
  async function work(panel, { focus = false, refill = false } = {}) {
    const units = panel.form.elements.units.value;
    const request = { units, typed: panel.units, inputs: read(panel.form), local: panel.facts.local, rules: panel.facts.rules, html: true };
    const asked = ++panel.asked;
    panel.halt(); // a question still worked on is not wanted any more
    panel.root.setAttribute("aria-busy", "true");
    const slow = setTimeout(() => panel.say("Working it out …"), 300);
    try {
      const answer = JSON.parse(await window.HandbookPython.run(panel.name, JSON.stringify(request), (progress, halt) => {
        if (asked === panel.asked) panel.progress(progress, halt);
        else halt();
      }));
      if (asked === panel.asked) show(panel, answer, { focus, refill, units });
    } catch (error) {
      panel.say(`That did not work: ${error.message || error}`);
    } finally {
      clearTimeout(slow);
      if (asked === panel.asked) {
        panel.root.removeAttribute("aria-busy");
        panel.done();
      }
    }
  }

  function show(panel, answer, { focus, refill, units }) {
    showErrors(panel, answer.errors || [], focus);
    if (answer.errors) {
      panel.form.elements.units.value = panel.units;
      panel.say("Some answers cannot be used; they are listed above the form.");
      return;
    }
    const open = [...panel.result.querySelectorAll("details")].map((each) => each.open);
    panel.result.replaceChildren(...fragment(answer.html));
    panel.result.querySelectorAll("details").forEach((each, index) => (each.open = Boolean(open[index])));
    panel.plain = answer.plain;
    panel.root.dataset.outcome = answer.outcome;
    for (const unit of panel.form.querySelectorAll("[data-unit-of]")) unit.textContent = answer.unit_names[unit.dataset.unitOf] || "";
    if (refill && panel.units !== units) {
      panel.units = units;
      write(panel, answer.inputs);
    }
    panel.say(answer.headline);
    if (focus) panel.result.focus();
  }

  function fragment(html) {
    return new DOMParser().parseFromString(html, "text/html").body.childNodes;
  }

  function showErrors(panel, errors, focus) {
    for (const control of panel.form.querySelectorAll("[aria-invalid]")) control.removeAttribute("aria-invalid");
    panel.errors.hidden = !errors.length;
    panel.errors.replaceChildren();
    if (!errors.length) return;
    const head = document.createElement("p");
    head.textContent = errors.length === 1 ? "One answer cannot be used:" : `${errors.length} answers cannot be used:`;
    const list = document.createElement("ul");
    for (const error of errors) list.append(errorLine(panel, error));
    panel.errors.append(head, list);
    if (focus) panel.errors.focus();
  }

  function errorLine(panel, error) {
    const item = document.createElement("li");
    const control = panel.form.elements[error.field];
    if (!control || !control.id) {
      item.textContent = error.message;
      return item;
    }
    control.setAttribute("aria-invalid", "true");
    const link = document.createElement("a");
    link.href = `#${control.id}`;
    link.textContent = error.message;
    link.addEventListener("click", (event) => {
      event.preventDefault();
      const closed = control.closest("details");
      if (closed) closed.open = true;
      control.focus();
    });
    item.append(link);
    return item;
  }

  const DO = {
    stop: (panel) => panel.halt(),
    clear: (panel) => {
      from(panel, "reader");
      write(panel, {});
      work(panel);
    },
    example: (panel) => {
      from(panel, "example");
      useUnits(panel, panel.facts.example.units);
      write(panel, panel.facts.example.inputs);
      work(panel);
    },
    add: (panel, button) => {
      const rows = button.closest("[data-rows]");
      if (rows.querySelectorAll(".hb-row").length >= Number(rows.dataset.most)) {
        panel.say(`There may be ${rows.dataset.most} of them at most.`);
        return;
      }
      const row = addRow(rows);
      number(rows);
      showWhen(panel.form);
      row.querySelector("[name]").focus();
    },
    remove: (panel, button) => {
      const rows = button.closest("[data-rows]");
      button.closest(".hb-row").remove();
      number(rows);
      rows.querySelector('[data-do="add"]').focus();
      work(panel);
    },
    print: () => window.print(),
    copy: (panel) => copy(panel, panel.plain, "The result is copied."),
    link: (panel) => copy(panel, linkOf(panel), "The link is copied; it carries what you typed."),
  };

  /** Whose values stand in the form: on paper only the reader's own answer is printed beside a step. */
  function from(panel, whose) {
    panel.root.dataset.from = whose;
  }

  function useUnits(panel, units) {
    panel.units = units;
    panel.form.elements.units.value = units;
  }

  function linkOf(panel) {
    const carried = { calculator: panel.name, units: panel.units, inputs: read(panel.form) };
    return `${location.href.split("#")[0]}#inputs=${encodeURIComponent(JSON.stringify(carried))}`;
  }

  async function copy(panel, text, done) {
    try {
      await navigator.clipboard.writeText(text);
      panel.say(done);
    } catch {
      // A page opened as a file may not have the clipboard; show the text to copy by hand.
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

  /** What a link carries, for this calculator; null where it carries nothing usable. */
  function carried(panel) {
    const found = location.hash.match(/^#inputs=(.*)$/);
    if (!found) return null;
    try {
      const value = JSON.parse(decodeURIComponent(found[1]));
      return value.calculator === panel.name ? value : null;
    } catch {
      panel.say("The link is damaged: what was typed could not be read from it.");
      return null;
    }
  }

  function usePreset(panel, index) {
    const preset = panel.facts.presets[Number(index)];
    if (!preset) return;
    from(panel, "reader");
    useUnits(panel, preset.units);
    write(panel, preset.inputs);
    work(panel);
  }

  function listen(panel) {
    panel.form.addEventListener("submit", (event) => {
      event.preventDefault();
      work(panel, { focus: true });
    });
    let pause;
    panel.form.addEventListener("input", (event) => {
      from(panel, "reader");
      showWhen(panel.form);
      if (event.target.name === "units") return;
      clearTimeout(pause);
      pause = setTimeout(() => work(panel), 350);
    });
    for (const radio of panel.form.querySelectorAll('[name="units"]')) {
      radio.addEventListener("change", () => work(panel, { refill: true }));
    }
    panel.root.addEventListener("click", (event) => {
      const button = event.target.closest("[data-do]");
      if (button) DO[button.dataset.do](panel, button);
    });
    panel.root.querySelector(".hb-presets select")?.addEventListener("change", (event) => usePreset(panel, event.target.value));
  }

  async function start(panel) {
    if (panel.started) return;
    panel.started = true;
    panel.state("loading");
    try {
      const info = await window.HandbookPython.start();
      const build = panel.root.dataset.build;
      if (build && info.build && build !== info.build) throw new Error("the page and its calculator are of different editions; copy the whole folder again.");
      const link = carried(panel);
      if (link) {
        from(panel, "reader");
        useUnits(panel, link.units === "si" ? "si" : "us");
        write(panel, link.inputs);
      }
      await work(panel);
      panel.state("ready");
    } catch (error) {
      panel.state("failed", error.message || String(error));
    }
  }

  function begin() {
    const panels = [...document.querySelectorAll("[data-calculator]")].map((root) => new Panel(root));
    if (!panels.length) return;
    // Python is fetched only where a calculator is about to be seen or used.
    const seen = new IntersectionObserver((entries) => {
      for (const entry of entries) if (entry.isIntersecting) start(panels.find((each) => each.root === entry.target));
    }, { rootMargin: "300px" });
    for (const panel of panels) {
      showWhen(panel.form);
      panel.say("");
      listen(panel);
      panel.form.addEventListener("focusin", () => start(panel), { once: true });
      seen.observe(panel.root);
    }
    addEventListener("beforeprint", () => document.querySelectorAll(".hb-details").forEach((each) => (each.open = true)));
    // The theme opens every fold before printing: remember which ones a reader opened.
    for (const fold of document.querySelectorAll(".hb-more > summary")) {
      fold.addEventListener("click", () => fold.parentElement.classList.toggle("hb-wanted", !fold.parentElement.open));
    }
  }

  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
  else begin();
})();
