// Checklists that remember, on this device: what was ticked, by whom and when, and what was written
// into the record, for each place apart. Plain script; it needs store.js before it.
"use strict";

(() => {
  const PAGE = location.pathname.split("/").slice(-2).join("/").replace(/\.html$/, "");
  const EMPTY = { job: "", ticks: {}, record: {} };
  /** A site's sheet is about its own site, wherever the reader is. */
  const OWN = PAGE.startsWith("sites/");
  const WORDS = {
    count: (done, all, name) => `${done} of ${all} ticked${name ? ` at ${name}` : ""}`,
    apart: (lists) => `Kept apart on this page: ${lists.join("; ")}.`,
    list: (name, done) => `${name || "no place said"}, ${done} ticked`,
    bring: (name) => `Bring what was ticked with no place said to ${name}`,
    brought: "It stands here now.",
    elsewhere: (file, name) => `${file} was saved at “${name}”. Say at the top of the page that you are there, then open it. Nothing was changed.`,
  };

  /** A tick or a box to write in, known by its words: a step that is worded anew is a new step. */
  function keyed(elements, words) {
    const seen = new Map();
    return elements.map((element) => {
      const text = words(element).replace(/\s+/g, " ").trim();
      const count = (seen.get(text) ?? 0) + 1;
      seen.set(text, count);
      return { element, key: count > 1 ? `${text} (${count})` : text };
    });
  }

  class Checklist {
    /** @param {HTMLElement} article */
    constructor(article) {
      this.article = article;
      this.title = article.querySelector("h1")?.textContent.replace("¶", "").trim() ?? document.title;
      this.ticks = keyed([...article.querySelectorAll("input.hb-tick")], (tick) => tick.closest("label").textContent);
      this.cells = keyed(writable(article), ({ head }) => head.firstChild.textContent);
      this.shelf = HandbookStore.placed(`checklist ${PAGE}`, EMPTY, usable, () => placeNow().key);
      this.names = HandbookStore.shelf("who", "", (value) => typeof value === "string");
      const { value, problem } = this.shelf.read();
      this.kept = value;
      this.bar = this.drawBar();
      this.drawCells();
      for (const each of this.ticks) each.element.addEventListener("change", () => this.ticked(each));
      document.addEventListener("handbook-here", () => this.arrive());
      document.addEventListener("handbook-folded", () => this.show(this.kept));
      document.addEventListener("handbook-row", ({ detail }) => this.answered(detail));
      this.shelf.watch(() => this.show(this.shelf.read().value));
      this.show(value);
      this.say(problem);
    }

    /** Another place has a list of its own. */
    arrive() {
      const { value, problem } = this.shelf.read();
      this.show(value);
      this.say(problem);
    }

    drawBar() {
      const bar = made("section", { class: "hb-checklist", "aria-label": "This checklist" });
      bar.append(
        field("Who ticks", this.names.read().value, "hb-checklist-who", (text) => this.names.write(text)),
        field("For which site or cabinet", this.kept.job || placeNow().name, "hb-checklist-job", (text) => this.keep({ job: text })),
        made("p", { class: "hb-checklist-count" }),
        made("p", { class: "hb-checklist-apart" }),
        made("p", { class: "hb-said", role: "status" }),
        this.more(),
      );
      const steps = this.article.querySelector(".hb-steps");
      if (steps) steps.before(bar);
      else this.article.querySelector("h1").after(bar);
      return bar;
    }

    /** What is seldom wanted stays folded: on a phone the steps come first. */
    more() {
      const fold = made("details", { class: "hb-checklist-more" });
      fold.append(made("summary", {}, "Save, open, print or start anew"), this.buttons(), made("p", { class: "hb-small" }, HandbookStore.notice()));
      return fold;
    }

    buttons() {
      const file = made("input", { type: "file", accept: ".json,application/json", class: "hb-visually-hidden", tabindex: "-1", "aria-label": "A checklist that was saved" });
      file.addEventListener("change", () => this.load(file));
      const box = made("div", { class: "hb-buttons" });
      box.append(
        button("Start anew", () => this.startAnew()),
        button("Save as a file", () => this.save()),
        button("Open a saved one", () => file.click()),
        button("Print as it is", () => print()),
        button("Print blank", () => this.printBlank()),
        file,
      );
      return box;
    }

    /** Boxes to write in, in place of the record's empty cells. */
    drawCells() {
      for (const { element, key } of this.cells) {
        const box = made("textarea", { rows: "1", placeholder: " ", "aria-label": key });
        box.addEventListener("input", () => {
          grow(box);
          this.keep({ record: { ...this.kept.record, [key]: box.value } });
        });
        element.cell.replaceChildren(box);
        element.box = box;
      }
    }

    /** A calculator's answer goes into the record's own line for it; what somebody wrote there stays. */
    answered({ name, text }) {
      for (const { element, key } of this.cells) {
        const { box, cell } = element;
        if (cell.dataset.answer !== name || (box.value && box.value !== box.dataset.told)) continue;
        box.value = box.dataset.told = text;
        grow(box);
        this.keep({ record: { ...this.kept.record, [key]: text } });
      }
    }

    ticked({ element, key }) {
      const ticks = { ...this.kept.ticks };
      delete ticks[key];
      if (element.checked) ticks[key] = { at: new Date().toISOString(), who: this.bar.querySelector(".hb-checklist-who input").value.trim() };
      const problem = this.keep({ ticks }) || (HandbookStore.keeps ? HandbookStore.clock() : HandbookStore.notice());
      this.show(this.kept);
      // Said where the thumb is: the head of the list may be screens away.
      if (problem) element.closest("label").after(made("p", { class: "hb-done hb-not-kept" }, problem));
    }

    /** @returns {string} what went wrong, in words, or nothing */
    keep(change) {
      this.kept = { ...this.kept, ...change, place: placeNow().name };
      const problem = this.shelf.write(this.kept);
      this.say(problem);
      return problem;
    }

    show(kept) {
      this.kept = kept;
      for (const old of this.article.querySelectorAll(".hb-not-kept")) old.remove();
      for (const { element, key } of this.ticks) showTick(element, kept.ticks[key]);
      for (const { element, key } of this.cells) {
        if (element.box.value !== (kept.record[key] ?? "")) element.box.value = kept.record[key] ?? "";
        grow(element.box);
      }
      const job = this.bar.querySelector(".hb-checklist-job input");
      const { name } = placeNow();
      const at = kept.job || name;
      if (job.value !== at) job.value = at;
      this.bar.querySelector(".hb-checklist-count").textContent = WORDS.count(this.done(kept), this.due().length, name);
      this.showApart();
    }

    /** The ticks of steps that this cabinet needs. */
    due() {
      return this.ticks.filter(({ element }) => !element.closest(".hb-folded"));
    }

    done(kept) {
      return this.due().filter(({ key }) => kept.ticks[key]).length;
    }

    /** Which other lists of this page are kept, so that no list seems lost. */
    showApart() {
      const others = this.shelf.others().map((key) => [key, this.shelf.at(key).read().value]).filter(([, kept]) => isBegun(kept));
      const told = others.map(([key, kept]) => WORDS.list(key && (kept.place || key), this.done(kept)));
      const line = this.bar.querySelector(".hb-checklist-apart");
      line.textContent = told.length ? WORDS.apart(told) : "";
      if (others.some(([key]) => !key) && !isBegun(this.kept)) line.append(" ", button(WORDS.bring(placeNow().name), () => this.bring()));
    }

    /** Who ticked before saying where loses nothing. */
    bring() {
      const before = this.shelf.at("");
      const { job, ticks, record } = before.read().value;
      this.keep({ job: this.kept.job || job, ticks: { ...ticks, ...this.kept.ticks }, record: { ...record, ...this.kept.record } });
      before.write(structuredClone(EMPTY));
      this.show(this.kept);
      this.say(WORDS.brought);
    }

    startAnew() {
      const before = this.kept;
      const answers = window.HandbookRows?.read();
      this.keep(structuredClone(EMPTY));
      window.HandbookRows?.write({});
      this.show(this.kept);
      this.say("The checklist is blank.");
      const undo = button("Undo", () => {
        this.keep(before);
        this.show(before);
        window.HandbookRows?.write(answers);
        this.say("The checklist is back.");
      });
      this.bar.querySelector(".hb-said").append(" ", undo);
    }

    save() {
      const told = { checklist: PAGE, title: this.title, at: placeNow().key, ...this.kept, answers: window.HandbookRows?.read() ?? {} };
      const link = made("a", { download: fileName(this.title, this.kept.job) });
      link.href = URL.createObjectURL(new Blob([JSON.stringify(told, null, 1)], { type: "application/json" }));
      link.click();
      URL.revokeObjectURL(link.href);
      this.say(`Saved as ${link.download}.`);
    }

    async load(file) {
      const [chosen] = file.files;
      file.value = "";
      if (!chosen) return;
      const read = await chosen.text().then(JSON.parse).catch(() => null);
      const kept = read && { job: read.job ?? "", ticks: read.ticks, record: read.record };
      if (!kept || !usable(kept)) return this.say(`${chosen.name} is not a checklist saved by this handbook. Nothing was changed.`);
      if (read.checklist !== PAGE) return this.say(`${chosen.name} belongs to “${read.title}”. Open that page first. Nothing was changed.`);
      if (read.at && read.at !== placeNow().key) return this.say(WORDS.elsewhere(chosen.name, read.place || read.at));
      const lost = Object.keys(kept.ticks).filter((key) => !this.ticks.some((each) => each.key === key));
      this.keep(kept);
      this.show(kept);
      window.HandbookRows?.write(read.answers ?? {});
      this.say(lost.length ? `Opened. Steps that this edition words otherwise are not ticked: ${lost.join(" ")}` : `${chosen.name} is open.`);
    }

    printBlank() {
      document.documentElement.classList.add("hb-print-blank");
      addEventListener("afterprint", () => document.documentElement.classList.remove("hb-print-blank"), { once: true });
      print();
    }

    say(text) {
      this.bar.querySelector(".hb-said").textContent = text;
    }
  }

  /** Where the list belongs: the place that the reader has said. */
  function placeNow() {
    const here = OWN ? null : window.HandbookHere?.get();
    return { key: here?.key ?? "", name: here?.name ?? "" };
  }

  function isBegun({ ticks, record }) {
    return Object.keys(ticks).length > 0 || Object.values(record).some(Boolean);
  }

  function usable(value) {
    const isTable = (table) => typeof table === "object" && table !== null && !Array.isArray(table);
    return isTable(value) && typeof value.job === "string" && isTable(value.ticks) && isTable(value.record)
      && Object.values(value.ticks).every((tick) => typeof tick?.at === "string" && typeof tick?.who === "string")
      && Object.values(value.record).every((text) => typeof text === "string");
  }

  /** The record's rows: their head and the cell to write in. A signature is for paper. */
  function writable(article) {
    return [...article.querySelectorAll(".hb-record tbody tr")].map((row) => ({ head: row.querySelector("th"), cell: row.querySelector("td") }));
  }

  function showTick(tick, done) {
    tick.checked = Boolean(done);
    const line = tick.closest("label");
    let note = line.nextElementSibling?.matches(".hb-done") ? line.nextElementSibling : null;
    if (!done) return note?.remove();
    if (!note) line.after((note = made("p", { class: "hb-done" })));
    const when = new Date(done.at).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
    note.textContent = `Ticked ${when}${done.who ? ` by ${done.who}` : ""}`;
  }

  function grow(box) {
    box.style.height = "auto";
    box.style.height = `${box.scrollHeight}px`;
  }

  function fileName(title, job) {
    const day = new Date().toLocaleDateString("sv");
    return `${[title, job, day].filter(Boolean).join(" ").replace(/[^\w -]+/g, "").replace(/\s+/g, "-").toLowerCase()}.json`;
  }

  function field(label, value, name, then) {
    const box = made("label", { class: `hb-field ${name}` });
    const input = made("input", { type: "text", autocomplete: "off" });
    input.value = value;
    input.addEventListener("input", () => then(input.value));
    box.append(made("span", {}, label), input);
    return box;
  }

  function button(text, then) {
    const made_ = made("button", { type: "button", class: "hb-button" }, text);
    made_.addEventListener("click", then);
    return made_;
  }

  function made(name, attributes = {}, text = "") {
    const element = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    element.textContent = text;
    return element;
  }

  document.addEventListener("DOMContentLoaded", () => {
    const article = document.querySelector("article");
    if (article?.querySelector("input.hb-tick")) new Checklist(article);
  });
})();
