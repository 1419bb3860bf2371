// The differences of past cash counts, a list for each place, kept on this device alone: what single ones hide shows in
// their sum. It needs store.js and rows.js before it and comes before calculator.js, whose forms it waits for. Without it, or where the
// browser keeps nothing, the count works all the same.
(() => {
  "use strict";

  const WORDS = {
    title: (place) => (place ? `Past differences, ${place}` : "Past differences, no place chosen"),
    none: "None kept here yet.",
    keep: "Keep this difference",
    open: "A difference can be kept when the answer knows it to the cent.",
    remove: "Remove",
    undo: "Put it back",
    gone: "Removed.",
    sum: (count, sum) => `The last ${count} together: ${sum}.`,
    one: (sum) => `One is kept: ${sum}.`,
    fine: (limit, row) => `One asks beyond ${limit} in all, and at ${row} in a row on the same side.`,
    beyond: (limit) => `Together they lie beyond ${limit}: ask.`,
    row: (count) => `${count} in a row lie on the same side: ask.`,
    kept: "Kept.",
    already: "This count is kept already.",
    save: "Download the list",
    saved: (name) => `Downloaded: ${name}.`,
  };
  const HEAD = ["Day", "Difference", "Counted", "Must hold", ""];
  const FILE = "differences.csv";
  const SHOWN = 10;
  const MOST = 200;

  /** @typedef {{at: string, gap: number, counted: number, must: number}} Past amounts in the smallest coin */

  function usable(value) {
    return Array.isArray(value) && value.every((each) => typeof each?.at === "string" && !Number.isNaN(Date.parse(each.at))
      && ["gap", "counted", "must"].every((key) => Number.isSafeInteger(each[key])));
  }

  class Differences {
    /** @param {HTMLElement} root a calculator's */
    constructor(root) {
      this.root = root;
      this.shelf = window.HandbookStore.placed("differences", [], usable);
      this.answer = null;
      this.removed = null;
      this.part = made("section", "hb-past hb-screen-only");
      this.part.setAttribute("aria-label", "Past differences");
      this.head = made("h3", "");
      this.list = made("div", "");
      this.told = made("p", "");
      this.said = made("p", "hb-small");
      this.said.setAttribute("role", "status");
      this.add = button(WORDS.keep, () => this.keep());
      this.file = button(WORDS.save, () => this.save());
      this.part.append(this.head, this.list, this.told, this.add, " ", this.file, this.said, made("p", "hb-small", window.HandbookStore.notice()));
      root.querySelector(".hb-answer").append(this.part);
      root.addEventListener("handbook-answer", ({ detail }) => this.hear(detail));
      document.addEventListener("handbook-here", () => this.show());
      this.shelf.watch(() => this.show());
      this.show();
    }

    /** @param {any} answer null where it was withdrawn */
    hear(answer) {
      this.answer = answer;
      this.say("");
      this.show();
    }

    /** The answer's difference, where it is known to the cent. @returns {Past | null} */
    now() {
      const found = Object.fromEntries((this.answer?.values ?? []).map((each) => [each.key, each]));
      const isSure = found.gap && found.gap.inner !== null && !found.gap.tolerance && this.settled();
      if (!isSure) return null;
      return { at: new Date().toISOString(), gap: Math.round(found.gap.inner), counted: Math.round(found.counted.inner), must: Math.round(found.must.inner) };
    }

    /** Weighed coins may leave the difference open though one of them is the likeliest. */
    settled() {
      return this.answer.checks.some((each) => each.key === "short" && each.outcome !== "unknown");
    }

    /** The same count, asked for once more. @param {Past} past @param {Past[]} kept */
    isKept(past, kept) {
      const last = kept.at(-1);
      return Boolean(last) && ["gap", "counted", "must"].every((key) => last[key] === past[key]) && last.at.slice(0, 10) === past.at.slice(0, 10);
    }

    save() {
      const rows = this.shelf.read().value.map((each) => [each.at, ...["gap", "counted", "must"].map((key) => (each[key] / 100).toFixed(2))]);
      window.HandbookRows.download(FILE, window.HandbookRows.write([["at", "difference", "counted", "must_hold"], ...rows]), "text/csv");
      this.say(WORDS.saved(FILE));
    }

    keep() {
      const past = this.now();
      if (!past) return;
      const kept = [...this.shelf.read().value, past].slice(-MOST);
      const problem = this.shelf.write(kept);
      this.removed = null;
      this.show();
      this.say(problem || window.HandbookStore.clock() || WORDS.kept);
    }

    remove(place) {
      const kept = this.shelf.read().value;
      this.removed = { place, past: kept[place] };
      const problem = this.shelf.write(kept.filter((_, at) => at !== place));
      this.show();
      this.say(problem || WORDS.gone, button(WORDS.undo, () => this.putBack()));
    }

    putBack() {
      const kept = this.shelf.read().value;
      if (this.removed) kept.splice(this.removed.place, 0, this.removed.past);
      this.removed = null;
      const problem = this.shelf.write(kept);
      this.show();
      this.say(problem);
      this.add.focus();
    }

    say(text, ...more) {
      this.said.replaceChildren(text, ...(more.length ? [" ", ...more] : []));
    }

    show() {
      const { value: kept, problem } = this.shelf.read();
      this.head.textContent = WORDS.title(window.HandbookHere?.get()?.name ?? "");
      const past = this.now();
      const isKept = Boolean(past) && this.isKept(past, kept);
      this.add.disabled = !past || isKept;
      this.file.hidden = !kept.length;
      this.list.replaceChildren(kept.length ? this.table(kept) : made("p", "", WORDS.none));
      this.told.textContent = problem || [this.judged(kept), isKept ? WORDS.already : "", past || !this.answer ? "" : WORDS.open].filter(Boolean).join(" ");
    }

    table(kept) {
      const table = made("table", "hb-table");
      const head = made("tr", "");
      for (const name of HEAD) head.append(Object.assign(made("th", "", name), { scope: "col" }));
      table.createTHead().append(head);
      const body = table.createTBody();
      const first = Math.max(0, kept.length - SHOWN);
      kept.slice(first).forEach((each, at) => body.prepend(this.line(each, first + at)));
      return table;
    }

    line(past, place) {
      const line = made("tr", "");
      const day = new Date(past.at).toLocaleDateString([], { dateStyle: "medium" });
      for (const text of [day, this.signed(past.gap), this.amount(past.counted), this.amount(past.must)]) line.append(made("td", "", text));
      const last = made("td", "");
      const away = button("✕", () => this.remove(place));
      away.className = "hb-button hb-button--quiet";
      away.setAttribute("aria-label", `${WORDS.remove}: ${day}, ${this.signed(past.gap)}`);
      last.append(away);
      line.append(last);
      return line;
    }

    /** What the last ones say together, beside the limits, which are those of the rules that the answer used. */
    judged(kept) {
      const last = kept.slice(-SHOWN);
      if (!last.length) return "";
      const sum = last.reduce((total, each) => total + each.gap, 0);
      const told = last.length === 1 ? WORDS.one(this.signed(sum)) : WORDS.sum(last.length, this.signed(sum));
      const ask = this.rule("coins.ask");
      const inRow = this.rule("upkeep.cash_run");
      if (ask === null || inRow === null) return told;
      const limit = this.amount(Math.round(ask * 100));
      const reasons = [Math.abs(sum) > Math.round(ask * 100) ? WORDS.beyond(limit) : "", oneSided(last) >= inRow ? WORDS.row(oneSided(last)) : ""];
      return [told, ...(reasons.some(Boolean) ? reasons.filter(Boolean) : [WORDS.fine(limit, inRow)])].join(" ");
    }

    rule(key) {
      return this.answer?.sources.find((each) => each.key === key)?.value ?? null;
    }

    /** The sign of the money is that of the answer; before there is one, a bare amount. */
    amount(cents) {
      const text = (this.answer?.values ?? []).map((each) => each.text).find((each) => /[$€£]/.test(each)) ?? "";
      return `${text.match(/[$€£]/)?.[0] ?? ""}${Math.floor(cents / 100)}.${String(cents % 100).padStart(2, "0")}`;
    }

    signed(cents) {
      return `${cents < 0 ? "−" : cents > 0 ? "+" : ""}${this.amount(Math.abs(cents))}`;
    }
  }

  /** How many of the newest lie on one side, one after the other. @param {Past[]} past */
  function oneSided(past) {
    const side = Math.sign(past.at(-1)?.gap ?? 0);
    if (!side) return 0;
    let count = 0;
    for (const each of [...past].reverse()) {
      if (Math.sign(each.gap) !== side) break;
      count += 1;
    }
    return count;
  }

  function made(name, style, text = "") {
    return Object.assign(document.createElement(name), { className: style, textContent: text });
  }

  function button(text, act) {
    const found = Object.assign(made("button", "hb-button", text), { type: "button" });
    found.addEventListener("click", act);
    return found;
  }

  document.addEventListener("handbook-form", ({ target }) => target.dataset.calculator === "cash" && new Differences(target));
})();
