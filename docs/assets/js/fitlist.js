// The fit book's list of tests as a table: added to window.HandbookFits. It needs fitcheck.js before it.
"use strict";

(() => {
  const { counted, isSame } = window.HandbookFits;

  /** Each column's text, and smaller texts beneath it; the build's own list has the same. */
  const COLUMNS = {
    Day: (book, row) => [row.date, book.name("crew", row.who)],
    "What was tried": (book, row) => [book.name("products", row.product), book.name("coils", row.coil), book.name("machines", row.machine)],
    Counted: (book, row) => [counted(book, row)],
    Verdict: (book, row) => [book.facts.verdicts[row.verdict], calculated(book, row)],
    "New size, note": (book, row) => [sizesOf(book, row), row.note, isOurs(book, row) && "In our data already"],
  };

  function calculated(book, row) {
    const word = book.facts.calculated[row.machine]?.[row.product]?.[row.coil];
    return word && `calculated: ${word.toLowerCase()}`;
  }

  function sizesOf(book, row) {
    return book.facts.corrected.filter((column) => row[column]).map((column) => `${book.label(column).toLowerCase()} ${row[column]}`).join(", ");
  }

  function title(book, row) {
    return `${book.name("products", row.product)} in the ${book.name("coils", row.coil).toLowerCase()}`;
  }

  function isOurs(book, row) {
    return book.facts.data.some((each) => isSame(book, each, row));
  }

  /** The tests, the latest first; `actions` are the buttons of a row. */
  function list(book, actions) {
    const table = element("table", "", { class: "hb-table hb-tests", "aria-label": "Tests on this device" });
    const head = element("tr");
    for (const name of Object.keys(COLUMNS)) head.append(element("th", name, { scope: "col" }));
    head.append(element("th", "Change", { scope: "col", class: "hb-screen-only" }));
    const body = element("tbody");
    const order = [...book.rows].sort((a, b) => b.date.localeCompare(a.date));
    for (const row of order) body.append(line(book, row, actions));
    table.append(element("thead"), body);
    table.tHead.append(head);
    const scroll = element("div", "", { class: "hb-scroll", tabindex: "0", role: "region", "aria-label": "Tests on this device" });
    scroll.append(table);
    return scroll;
  }

  function line(book, row, actions) {
    const item = element("tr");
    for (const [name, texts] of Object.entries(COLUMNS)) item.append(cell(name, ...texts(book, row)));
    const last = element("td", "", { class: "hb-screen-only" });
    for (const [word, act] of Object.entries(actions)) {
      const made = element("button", word, { type: "button", class: "hb-button", "aria-label": `${word}: ${title(book, row)}, ${row.date}` });
      made.addEventListener("click", () => act(book, row));
      last.append(made);
    }
    item.append(last);
    return item;
  }

  function cell(name, main, ...hints) {
    const inner = element("span", main || "–");
    for (const hint of hints) if (hint) inner.append(element("span", hint, { class: "hb-hint" }));
    const made = element("td", "", { "data-label": name });
    made.append(inner);
    return made;
  }

  /** @returns {HTMLElement} */
  function element(name, text = "", attributes = {}) {
    const made = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    if (text) made.textContent = text;
    return made;
  }

  Object.assign(window.HandbookFits, { list, title, calculated, isOurs, element });
})();
