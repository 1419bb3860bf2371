// The fit book in the page: records hand tests on this device, and gives them back as rows of fits.csv.
// Plain script; it needs store.js, rows.js and the three other fit scripts before it.
(() => {
  "use strict";

  const FILE = "fits.csv";
  /** What a test must say to be listed at all; a list without it is none of ours. */
  const NEEDED = ["machine", "product", "coil", "date", "verdict"];
  const { faults, counted, isSame, isOurs, parsed, calculated, title, list, element } = window.HandbookFits;
  const { fromForm, faultsOfSizes, showFaults } = window.HandbookFits;

  /** The page's parts, what our data says, and the tests kept on this device. */
  class Book {
    /** @param {HTMLElement} root */
    constructor(root) {
      this.root = root;
      this.facts = JSON.parse(root.querySelector("#hb-fit-facts").textContent);
      this.form = root.querySelector("form");
      this.errors = this.form.querySelector(".hb-errors");
      this.device = root.querySelector(".hb-device");
      this.shelf = window.HandbookStore.shelf("fits", [], usable);
      this.names = {};
      for (const table of ["machines", "products", "coils", "crew"]) {
        this.names[table] = new Map(this.facts[table].map((each) => [each.key, each]));
      }
      this.past = [];
      this.editing = null;
      const { value, problem } = this.shelf.read();
      this.rows = value;
      this.problem = problem;
    }

    name(table, key) {
      return this.names[table].get(key)?.name ?? key ?? "";
    }

    label(column) {
      return this.facts.labels[column] ?? column;
    }

    say(text, part = this.device) {
      for (const each of this.root.querySelectorAll(".hb-said")) each.textContent = "";
      part.querySelector(".hb-said").textContent = text;
    }
  }

  function usable(value) {
    return Array.isArray(value) && value.every((row) => typeof row === "object" && row !== null && NEEDED.every((column) => column in row)
      && Object.values(row).every((cell) => typeof cell === "string"));
  }

  // -- the form -------------------------------------------------------------------------

  /** One at a time: checking a size may take a moment, and a thumb may press twice. */
  async function save(book) {
    if (book.saving) return;
    book.saving = true;
    try {
      await checkedSave(book);
    } finally {
      book.saving = false;
    }
  }

  async function checkedSave(book) {
    const row = fromForm(book);
    const others = book.rows.filter((each) => each !== book.editing);
    let found = faults(book, row, others);
    if (!found.length) found = await faultsOfSizes(book, row);
    showFaults(book, found);
    if (found.length) return book.say("Not saved: some answers cannot be used. They are listed above the form.", book.form);
    const changed = book.editing;
    const rows = changed ? book.rows.map((each) => (each === changed ? row : each)) : [...book.rows, row];
    change(book, rows, changed ? "change" : "new test");
    clear(book, row);
    book.say(told(book, `${changed ? "Changed" : "Saved"}: ${title(book, row)}.`), book.form);
  }

  /** Ready for the next test: cabinet, day and person stay as they are. */
  function clear(book, row = {}) {
    book.editing = null;
    book.form.reset();
    for (const column of ["machine", "date", "who"]) book.form.elements[column].value = row[column] ?? "";
    book.form.querySelector("[type=submit]").textContent = "Save this test";
    showFaults(book, []);
    follow(book);
  }

  function edit(book, row) {
    clear(book);
    book.editing = row;
    for (const [column, value] of Object.entries(row)) {
      const control = book.form.elements[column];
      const unit = control?.parentElement.querySelector(".hb-unit")?.textContent;
      if (control) control.value = unit && value.endsWith(` ${unit}`) ? value.slice(0, -unit.length - 1) : value;
    }
    if (book.facts.corrected.some((column) => row[column])) book.form.querySelector("details").open = true;
    book.form.querySelector("[type=submit]").textContent = "Save the change";
    follow(book);
    book.say(`Changing: ${title(book, row)}.`, book.form);
    book.form.elements.product.focus();
  }

  /** What may be chosen follows from the cabinet; what may be measured from the product. */
  function follow(book) {
    const machine = book.form.elements.machine.value;
    for (const [column, table] of [["product", "products"], ["coil", "coils"]]) {
      for (const option of book.form.elements[column].options) {
        const fits = !option.value || !machine || book.names[table].get(option.value).machines.includes(machine);
        option.hidden = option.disabled = !fits;
        if (!fits && option.selected) book.form.elements[column].value = "";
      }
    }
    const shape = book.names.products.get(book.form.elements.product.value)?.shape;
    for (const part of book.form.querySelectorAll("[data-size]")) {
      part.hidden = Boolean(book.facts.shapes[shape]) && !book.facts.shapes[shape].includes(part.dataset.size);
    }
    book.form.querySelector(".hb-known").textContent = known(book, fromForm(book));
  }

  /** What is known already of the product in the coil: the last test stands over the calculation. */
  function known(book, row) {
    const tests = [...book.facts.data, ...book.rows].filter((each) => ["machine", "product", "coil"].every((column) => each[column] === row[column]));
    const last = tests.reduce((late, each) => (!late || each.date >= late.date ? each : late), null);
    const tried = last && `Tried here ${last.date}: ${book.facts.verdicts[last.verdict].toLowerCase()} (${counted(book, last)}).`;
    const word = calculated(book, row);
    return [tried, word && `C${word.slice(1)}.`].filter(Boolean).join(" ");
  }

  // -- the list -------------------------------------------------------------------------

  /** Take a new list; the old one can be had back. */
  function change(book, rows, what) {
    book.past.push({ rows: book.rows, what });
    keep(book, rows);
  }

  function keep(book, rows) {
    book.rows = rows;
    book.problem = book.shelf.write(rows);
    show(book);
  }

  function told(book, text) {
    return book.problem ? `${text} ${book.problem}` : text;
  }

  function show(book) {
    const place = book.root.querySelector(".hb-list-place");
    place.replaceChildren(book.rows.length ? list(book, { Edit: edit, Remove: remove }) : element("p", "Nothing is recorded on this device yet."));
    const undo = button(book, "undo");
    undo.hidden = !book.past.length;
    undo.textContent = book.past.length ? `Undo: ${book.past.at(-1).what}` : "Undo";
    button(book, "prune").hidden = !book.rows.some((row) => isOurs(book, row));
    follow(book);
  }

  function button(book, name) {
    return book.device.querySelector(`[data-do="${name}"]`);
  }

  function remove(book, row) {
    if (book.editing === row) clear(book);
    change(book, book.rows.filter((each) => each !== row), "removal");
    book.say(told(book, `Removed: ${title(book, row)}, ${row.date}.`));
    button(book, "undo").focus();
  }

  // -- out and in -----------------------------------------------------------------------

  function cells(book, rows) {
    return rows.map((row) => book.facts.header.map((column) => row[column] ?? ""));
  }

  async function copy(book) {
    const text = window.HandbookRows.write(cells(book, book.rows));
    book.root.querySelector(".hb-copy")?.remove();
    try {
      await navigator.clipboard.writeText(text);
      book.say(`Copied: ${number(book.rows)}. Put them at the end of ${FILE}.`);
    } catch {
      // A page opened as a file may not have the clipboard; show the text to copy by hand.
      const box = element("textarea", "", { class: "hb-copy", readonly: "", "aria-label": "Rows to copy" });
      box.value = text;
      book.root.querySelector(".hb-list-place").before(box);
      box.select();
      book.say(`Copy the marked rows and put them at the end of ${FILE}.`);
    }
  }

  function number(rows) {
    return rows.length === 1 ? "1 test" : `${rows.length} tests`;
  }

  /** A file of tests: all of it is read, or nothing, and every mistake is told. */
  async function readFile(book, file) {
    const { rows, problems } = parsed(book, await file.text());
    const place = book.root.querySelector("[data-read]");
    place.hidden = !problems.length;
    place.replaceChildren(...problems.slice(0, 20).map((text) => element("p", text)));
    if (problems.length) {
      book.say(`Nothing was read from ${file.name}: ${problems.length === 1 ? "1 mistake" : `${problems.length} mistakes`}.`);
      return place.focus();
    }
    const fresh = rows.filter((row) => !book.rows.some((each) => isSame(book, each, row)));
    const here = rows.length - fresh.length;
    if (fresh.length) change(book, [...book.rows, ...fresh], "reading of a file");
    book.say(told(book, `Read from ${file.name}: ${number(fresh)}.${here ? ` ${number(here === 1 ? [0] : Array(here))} stood here already.` : ""}`));
  }

  /** Lists that were kept on another device take the place of those here. */
  async function unpack(book, file) {
    const { done, problem } = window.HandbookStore.unpack(await file.text());
    if (done.length) reread(book);
    book.say(problem ? `${file.name}: ${problem}` : `Brought back from ${file.name}: ${done.length === 1 ? "1 list" : `${done.length} lists`}.`);
  }

  /** The shelf was changed from elsewhere: what could be undone was another list. */
  function reread(book) {
    const { value, problem } = book.shelf.read();
    Object.assign(book, { rows: value, problem, past: [] });
    clear(book);
    show(book);
  }

  function print(book, what) {
    document.documentElement.dataset.print = what;
    addEventListener("afterprint", () => delete document.documentElement.dataset.print, { once: true });
    window.print();
  }

  const DO = {
    clear: (book) => {
      clear(book);
      book.say("The form is empty.", book.form);
    },
    undo: (book) => {
      const { rows, what } = book.past.pop();
      if (book.editing) clear(book);
      keep(book, rows);
      book.say(told(book, `Undone: ${what}.`));
      if (button(book, "undo").hidden) button(book, "copy").focus();
    },
    copy,
    download: (book) => {
      window.HandbookRows.download(FILE, window.HandbookRows.write([book.facts.header, ...cells(book, book.rows)]), "text/csv");
      book.say(`${FILE}: ${number(book.rows)}.`);
    },
    read: (book) => book.root.querySelector(".hb-file").click(),
    prune: (book) => {
      change(book, book.rows.filter((row) => !isOurs(book, row)), "removal");
      book.say(told(book, "Removed those that stand in our data."));
    },
    pack: (book) => {
      window.HandbookRows.download("kept-lists.json", window.HandbookStore.pack(), "application/json");
      book.say("Downloaded: kept-lists.json.");
    },
    unpack: (book) => book.root.querySelector(".hb-packed").click(),
    "print-filled": (book) => print(book, "filled"),
    "print-blank": (book) => print(book, "blank"),
  };

  function listen(book) {
    book.form.addEventListener("submit", (event) => {
      event.preventDefault();
      save(book);
    });
    book.form.addEventListener("change", () => follow(book));
    book.root.addEventListener("click", (event) => {
      const pressed = event.target.closest("[data-do]");
      if (pressed) DO[pressed.dataset.do](book);
    });
    book.root.querySelector(".hb-file").addEventListener("change", (event) => {
      const [file] = event.target.files;
      event.target.value = "";
      if (file) readFile(book, file);
    });
    book.root.querySelector(".hb-packed").addEventListener("change", (event) => {
      const [file] = event.target.files;
      event.target.value = "";
      if (file) unpack(book, file);
    });
    book.shelf.watch(() => reread(book));
  }

  function begin() {
    const root = document.querySelector("[data-fit-book]");
    if (!root) return;
    const book = new Book(root);
    listen(book);
    show(book);
    root.querySelector(".hb-status").textContent = "Choose the cabinet first: it tells which products and coils belong to it.";
    root.querySelector(".hb-kept").textContent = [book.problem, window.HandbookStore.notice()].filter(Boolean).join(" ");
  }

  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
  else begin();
})();
