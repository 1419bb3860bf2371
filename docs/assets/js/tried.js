// Shows the tests kept on this device over the verdicts that were calculated when the handbook was built.
// Plain script; it needs store.js before it. A page without such a test stays as it is.
(() => {
  "use strict";

  /** The latest test of each product in each coil of each cabinet. */
  function latest() {
    const found = new Map();
    const { value } = window.HandbookStore.shelf("fits", [], Array.isArray).read();
    for (const row of value) {
      const key = place(row.machine, row.product, row.coil);
      if (!found.has(key) || found.get(key).date <= row.date) found.set(key, row);
    }
    return found;
  }

  function place(...keys) {
    return keys.join(" ");
  }

  function mark(cell, row, words) {
    const verdict = document.createElement("strong");
    verdict.textContent = words[row.verdict] ?? row.verdict;
    const note = document.createElement("span");
    note.className = "hb-hint";
    note.textContent = `tried, on this device, ${row.date}`;
    const made = document.createElement("div");
    made.className = "hb-on-device";
    made.append(verdict, note);
    cell.prepend(made);
  }

  function begin() {
    const holder = document.querySelector("#hb-verdicts");
    if (!holder) return;
    const words = JSON.parse(holder.textContent);
    const tests = latest();
    for (const cell of document.querySelectorAll("[data-coil]")) {
      const { machine } = cell.closest("[data-machine]").dataset;
      const { product } = cell.closest("[data-product]").dataset;
      const row = tests.get(place(machine, product, cell.dataset.coil));
      // A later test of our own data stands already; the device's older one adds nothing.
      if (row && row.date > (cell.dataset.tried ?? "")) mark(cell, row, words);
    }
  }

  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
  else begin();
})();
