// What a row of the fit book must hold, checked as the build checks the table: window.HandbookFits.
// `book` gives facts (what our data says), names (tables by key) and label(column).
"use strict";

(() => {
  const SIZE = /^\d[\d\s.,/]*\s*[a-z"'′″]*(\s*\d[\d\s.,/]*[a-z"'′″]*)*$/i;
  const LINKS = { machine: "machines", product: "products", coil: "coils", who: "crew" };

  /** Everything wrong with a row, as [column, message]. `others` are the rows it must not repeat. */
  function faults(book, row, others) {
    const found = [...missing(book, row), ...unknown(book, row), ...counts(book, row)];
    if (row.date && !isDay(row.date)) found.push(["date", "A day is written year-month-day, such as 2026-11-03."]);
    const long = [...(row.note ?? "")].length;
    if (long > book.facts.longest) found.push(["note", `${book.label("note")}: at most ${book.facts.longest} characters; it has ${long}.`]);
    if (!found.length) found.push(...verdict(book, row), ...sizes(book, row), ...again(book, row, others));
    return found;
  }

  function missing(book, row) {
    return book.facts.needed.filter((column) => !row[column]).map((column) => [column, `${book.label(column)} is needed.`]);
  }

  function unknown(book, row) {
    const lost = Object.entries(LINKS).filter(([column, table]) => row[column] && !book.names[table].has(row[column]));
    const found = lost.map(([column, table]) => [column, `There is no “${row[column]}” in ${table}.csv.`]);
    for (const [column, table] of [["product", "products"], ["coil", "coils"]]) {
      const known = book.names[table].get(row[column]);
      if (known && book.names.machines.has(row.machine) && !known.machines.includes(row.machine)) {
        found.push([column, `“${row[column]}” does not belong to the cabinet “${row.machine}”.`]);
      }
    }
    if (row.verdict && !Object.hasOwn(book.facts.verdicts, row.verdict)) {
      found.push(["verdict", `“${row.verdict}” cannot be used. It must be one of: ${Object.keys(book.facts.verdicts).join(", ")}.`]);
    }
    return found;
  }

  function isDay(text) {
    const day = /^\d{4}-\d{2}-\d{2}$/.test(text) ? new Date(`${text}T00:00:00Z`) : null;
    return Boolean(day) && !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text);
  }

  function counts(book, row) {
    const { lifted, vends } = book.facts;
    const most = { lifted, ...Object.fromEntries(book.facts.counts.map((name) => [name, vends])) };
    const found = Object.entries(most)
      .filter(([name, limit]) => row[name] !== undefined && !(/^\d+$/.test(row[name]) && Number(row[name]) <= limit))
      .map(([name, limit]) => [name, `${book.label(name)}: “${row[name]}” cannot be used. A whole number from 0 to ${limit} is wanted.`]);
    const total = book.facts.counts.reduce((sum, name) => sum + Number(row[name] || 0), 0);
    if (!found.length && total > vends) {
      found.push([book.facts.counts.at(-1), `${total} packs hung, fell and were crushed, of ${vends} test vends. Count each vend once, for the worst that happened.`]);
    }
    return found;
  }

  function verdict(book, row) {
    if (row.verdict !== book.facts.keep) return [];
    const asked = ["lifted", ...book.facts.counts];
    const blank = asked.filter((name) => row[name] === undefined);
    if (blank.length) {
      return [[blank[0], `To keep a coil, lift ${book.facts.lifted} packs, run ${book.facts.vends} test vends and write 0 where none went wrong.`]];
    }
    const clean = Number(row.lifted) === book.facts.lifted && book.facts.counts.every((name) => Number(row[name]) === 0);
    return clean ? [] : [["verdict", `The verdict is to keep the coil, but the test counted: ${counted(book, row)}. Choose another verdict, or test again.`]];
  }

  function sizes(book, row) {
    const shape = book.names.products.get(row.product)?.shape;
    const known = book.facts.shapes[shape] ?? book.facts.corrected;
    const given = book.facts.corrected.filter((column) => row[column]);
    const unfit = given.filter((column) => !known.includes(column)).map((column) => [column, `This product is ${shape}: it has no ${book.label(column).toLowerCase()}.`]);
    const odd = given.filter((column) => !SIZE.test(row[column])).map((column) => [column, `${book.label(column)}: “${row[column]}” cannot be used. Write it such as 42 mm or 1 5/8 in.`]);
    return [...unfit, ...odd];
  }

  function again(book, row, others) {
    const twin = others.some((other) => isSame(book, other, row));
    return twin ? [["date", "This product, coil, cabinet and day are on the list already. Change that one instead."]] : [];
  }

  function isSame(book, one, other) {
    return book.facts.same.every((column) => one[column] === other[column]);
  }

  /** What a test counted, as a phrase. */
  function counted(book, row) {
    const parts = row.lifted === undefined ? [] : [`${row.lifted} of ${book.facts.lifted} lifted freely`];
    const bad = book.facts.counts.filter((name) => Number(row[name] || 0)).map((name) => `${row[name]} ${name}`);
    const clean = book.facts.counts.every((name) => row[name] !== undefined && Number(row[name]) === 0);
    return [...parts, ...(clean ? [`${book.facts.vends} clean vends`] : bad)].join(", ") || "nothing counted";
  }

  /** The rows of a file, and everything wrong with it. @returns {{rows: object[], problems: string[]}} */
  function parsed(book, text) {
    const [head, ...lines] = window.HandbookRows.read(text);
    const names = (head?.cells ?? []).map((cell) => cell.trim());
    const problems = names.filter((name) => !book.facts.header.includes(name)).map((name) => `Row 1: there is no column “${name}”.`);
    for (const name of book.facts.needed) if (!names.includes(name)) problems.push(`Row 1: the column “${name}” is missing.`);
    const rows = [];
    for (const { line, cells: found } of problems.length ? [] : lines) {
      // A remark, as in every table of ours: the row's only cell.
      if (found[0].trimStart().startsWith("#") && !found.slice(1).some((cell) => cell.trim())) continue;
      const row = Object.fromEntries(names.map((name, i) => [name, (found[i] ?? "").trim()]).filter(([, cell]) => cell));
      if (found.length > names.length) problems.push(`Row ${line}: ${found.length} cells, but ${names.length} columns.`);
      problems.push(...faults(book, row, rows).map(([column, message]) => `Row ${line}, column ${column}: ${message}`));
      rows.push(row);
    }
    return { rows, problems };
  }

  window.HandbookFits = { faults, counted, isSame, parsed };
})();
