// What stands in a row or a group of a form, in one short line: window.HandbookBrief. The same as
// calculators/core/brief.py says when the page is built.
"use strict";

(() => {
  /** More than so many values nobody takes in at a glance. */
  const MOST = 5;
  const JOINED = { "*": " × ", "/": " of " };

  /** Bring every line of a form up to what stands in it. */
  function refresh(form) {
    for (const part of form.querySelectorAll(".hb-part")) put(part, ofGroup(part));
    for (const row of form.querySelectorAll("details.hb-row")) put(row, ofRow(row));
  }

  function put(fold, text) {
    fold.querySelector(":scope > summary .hb-brief").textContent = text;
  }

  function ofGroup(part) {
    const said = [...part.querySelectorAll(":scope > .hb-group > :not(legend)")].map((each) => {
      if (!each.dataset.rows) return each.hidden ? "" : valueOf(each);
      const count = window.HandbookInputs.rowCount(each);
      return count ? `${count} ${each.dataset.noun}${count > 1 ? "s" : ""}` : "";
    });
    return said.filter(Boolean).slice(0, MOST).join(", ");
  }

  function ofRow(row) {
    const fields = new Map([...row.querySelectorAll(".hb-field")].map((each) => [keyOf(each), each]));
    const { brief } = row.closest("[data-rows]").dataset;
    const entries = brief ? brief.split(" ") : [...fields.keys()];
    return entries.map((entry) => joined(fields, entry)).filter(Boolean).slice(0, MOST).join(" · ");
  }

  function keyOf(field) {
    return field.querySelector("[name]").name.split(".").at(-1);
  }

  /** `width*height` is one measure by another, `count/capacity` one of another. */
  function joined(fields, entry) {
    let text = "";
    const parts = entry.split(/([*/])/);
    for (let at = 0; at < parts.length; at += 2) {
      const field = fields.get(parts[at]);
      const said = field && !field.hidden ? valueOf(field) : "";
      if (!said) continue;
      const unit = field.querySelector(".hb-unit")?.textContent;
      if (text && unit && said.endsWith(` ${unit}`) && text.endsWith(` ${unit}`)) text = text.slice(0, -unit.length - 1);
      text += (text ? (JOINED[parts[at - 1]] ?? "") : "") + said;
    }
    return text;
  }

  /** With its unit; a choice by its first words, a yes by what it is about. */
  function valueOf(field) {
    const control = field.querySelector("[name]");
    const value = control.value.trim();
    if (!value) return "";
    if (control.localName === "textarea") return lines(control.whole ?? control.value);
    // The browser's own calendar has a T between day and time.
    if (control.type === "datetime-local") return value.replace("T", " ");
    if (control.options) return isFlag(control) ? (value === "yes" ? labelOf(field) : "") : chosen(control);
    const unit = field.querySelector(".hb-unit");
    return unit && !unit.hidden ? `${value} ${unit.textContent}` : value;
  }

  /** How much a long text holds. */
  function lines(text) {
    const count = text.trim().split("\n").length;
    return `${count} line${count > 1 ? "s" : ""}`;
  }

  function isFlag(select) {
    return [...select.options].map((each) => each.value).join() === ",yes,no";
  }

  function chosen(select) {
    return select.selectedOptions[0].textContent.split(/[:,(]/)[0].trim();
  }

  function labelOf(field) {
    return field.querySelector("label").textContent.trim();
  }

  window.HandbookBrief = { refresh };
})();
