// Rows of a table as text that a spreadsheet reads, and back: window.HandbookRows.
"use strict";

(() => {
  /** A text that a spreadsheet would work out, unless it is a plain number; or one that looks guarded already. */
  const FORMULA = /^(?!-?\d+(?:[.,]\d+)?$)'*[=+\-@\t\r]/;
  const GUARDED = /^'+[=+\-@\t\r]/;

  /** One line per row; a cell with a comma, a quote or a line's end stands in quotes. What a spreadsheet would
   * work out gets a quote before it, which `read` and the build take off again.
   * @param {string[][]} rows */
  function write(rows) {
    return rows.map((row) => row.map(cell).join(",") + "\n").join("");
  }

  function cell(value) {
    const text = FORMULA.test(value) ? `'${value}` : value;
    return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  }

  /** The rows of a text, blank lines left out; each with the number of its first line.
   * @param {string} text
   * @returns {{line: number, cells: string[]}[]} */
  function read(text) {
    const rows = [];
    let cells = [];
    let field = "";
    let quoted = false;
    let line = 1;
    let first = 1;
    const source = text.replace(/^\uFEFF/, "").replace(/\r\n?/g, "\n");
    const add = () => {
      cells.push(GUARDED.test(field) ? field.slice(1) : field);
    };
    const end = () => {
      add();
      if (cells.some((each) => each.trim())) rows.push({ line: first, cells });
      cells = [];
      field = "";
    };
    for (let i = 0; i < source.length; i++) {
      const sign = source[i];
      if (sign === "\n") line++;
      if (quoted && sign === '"' && source[i + 1] === '"') field += source[++i];
      else if (quoted && sign === '"') quoted = false;
      else if (quoted) field += sign;
      else if (sign === '"' && !field) quoted = true;
      else if (sign === ",") {
        add();
        field = "";
      } else if (sign === "\n") {
        end();
        first = line;
      } else field += sign;
    }
    end();
    return rows;
  }

  /** Hand the reader a file. @param {string} name @param {string} text @param {string} type */
  function download(name, text, type) {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type }));
    link.download = name;
    document.body.append(link);
    link.click();
    link.remove();
    // The browser reads it after the click; taken away at once, it may find nothing.
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  }

  window.HandbookRows = { read, write, download };
})();
