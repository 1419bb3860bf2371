// The fit book's form, read and checked: added to window.HandbookFits. It needs fitlist.js before it.
"use strict";

(() => {
  const { element } = window.HandbookFits;

  function fromForm(book) {
    const row = {};
    for (const column of book.facts.header) {
      const control = book.form.elements[column];
      const value = control && !control.closest("[hidden]") ? control.value.trim() : "";
      if (value) row[column] = book.facts.corrected.includes(column) ? withUnit(book, value) : value;
    }
    return row;
  }

  /** A bare number is in the unit that stands beside its box. */
  function withUnit(book, value) {
    return /^[\d\s.,/]+$/.test(value) ? `${value} ${book.facts.unit}` : value;
  }

  /** Sizes are read by the calculator's own reader, so that the build will take them too. */
  async function faultsOfSizes(book, row) {
    const given = book.facts.corrected.filter((column) => row[column]);
    if (!given.length || !window.HandbookPython) return [];
    book.say("Checking the new size …", book.form);
    const inputs = Object.fromEntries(given.map((column) => [column, row[column]]));
    try {
      const text = JSON.stringify({ units: book.facts.units, inputs });
      const answer = JSON.parse(await sized(text));
      return (answer.errors ?? []).filter((each) => given.includes(each.field)).map((each) => [each.field, each.message]);
    } catch {
      return []; // the calculators cannot run here: the build reads the size all the same
    }
  }

  /** A calculator that has gone quiet must not keep a test from being saved. */
  function sized(text) {
    return new Promise((resolve, reject) => {
      window.HandbookPython.run("spiral", text, undefined, reject).then(resolve, reject);
    });
  }

  function showFaults(book, found) {
    for (const control of book.form.querySelectorAll("[aria-invalid]")) control.removeAttribute("aria-invalid");
    book.errors.hidden = !found.length;
    if (!found.length) return book.errors.replaceChildren();
    const head = element("p", found.length === 1 ? "One answer cannot be used:" : `${found.length} answers cannot be used:`);
    const list = element("ul");
    for (const [column, message] of found) list.append(faultLine(book, column, message));
    book.errors.replaceChildren(head, list);
    book.errors.focus();
  }

  function faultLine(book, column, message) {
    const control = book.form.elements[column];
    const link = element("a", message, { href: `#${control.id}` });
    control.setAttribute("aria-invalid", "true");
    link.addEventListener("click", (event) => {
      event.preventDefault();
      const closed = control.closest("details");
      if (closed) closed.open = true;
      control.focus();
    });
    const item = element("li");
    item.append(link);
    return item;
  }

  Object.assign(window.HandbookFits, { fromForm, faultsOfSizes, showFaults });
})();
