// A calculator's form: what stands in it, what is put into it, its rows and the units beside its boxes:
// window.HandbookInputs. Nothing here asks Python.
"use strict";

(() => {
  /** A number and nothing else; whatever else stands in a box is taken for a unit of its own. */
  const BARE = /^[\d\s.,/⁄+−–\-¼½¾⅛⅜⅝⅞]*$/;

  /** Every box and list of the form by name. Never form.elements[name]: “length” is a number there. */
  function controls(form) {
    return [...form.querySelectorAll("input[name], select[name], textarea[name]")].filter((each) => each.type !== "radio");
  }

  /** @returns {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement | undefined} */
  function control(form, name) {
    return controls(form).find((each) => each.name === name);
  }

  function rowsOf(form, name) {
    return [...form.querySelectorAll("[data-rows]")].find((each) => each.dataset.rows === name);
  }

  function rowCount(rows) {
    return rows.querySelectorAll(".hb-row").length;
  }

  /** A box's value. Of a long text the box shows the beginning only, and the page holds all of it (log.js). */
  function valueOf(each) {
    return each.whole ?? each.value;
  }

  function isLong(each) {
    return each.localName === "textarea";
  }

  function set(each, value) {
    if (isLong(each) && window.HandbookLog) window.HandbookLog.put(each, value);
    else each.value = withoutUnit(each, value);
  }

  /** The form's values as nested inputs; blank ones are left out. */
  function read(form) {
    const inputs = {};
    for (const each of controls(form)) {
      const value = valueOf(each).trim();
      if (value && !each.closest("[hidden]")) put(inputs, each.name.split("."), value);
    }
    for (const rows of form.querySelectorAll("[data-rows]")) {
      const list = inputs[rows.dataset.rows] || [];
      inputs[rows.dataset.rows] = Array.from({ length: rowCount(rows) }, (_, i) => list[i] || {});
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

  /** What Python is asked. @param {string} typed the units that stand beside the boxes */
  function question(form, typed, { local, rules }) {
    return { units: form.elements.units.value, typed, inputs: read(form), local, rules, html: true, early: true };
  }

  /** Write inputs into the form, making as many rows as they hold and the form allows. */
  function write(form, inputs) {
    for (const rows of form.querySelectorAll("[data-rows]")) {
      const list = inputs[rows.dataset.rows];
      const wanted = Math.min(Array.isArray(list) ? list.length : 0, Number(rows.dataset.most));
      while (rowCount(rows) > wanted) rows.querySelector(".hb-row").remove();
      while (rowCount(rows) < wanted) addRow(rows).removeAttribute("open");
      number(rows);
    }
    for (const each of controls(form)) set(each, lookUp(inputs, each.name.split(".")));
    follow(form);
  }

  /** The same measures in another system: `inputs` are those that were sent, as Python converted them.
   * What was blank stays blank; what is hidden was not sent, and keeps its unit beside its number. */
  function convert(form, inputs, names) {
    for (const each of controls(form)) {
      const unit = each.parentElement.querySelector(".hb-unit");
      if (each.closest("[hidden]") && unit && each.value.trim() && BARE.test(each.value) && names[unit.dataset.unitOf] !== unit.textContent) {
        each.value = `${each.value.trim()} ${unit.textContent}`;
      }
    }
    nameUnits(form, names);
    for (const each of controls(form)) {
      if (each.value.trim() && !each.closest("[hidden]") && !isLong(each)) each.value = withoutUnit(each, lookUp(inputs, each.name.split(".")));
    }
    follow(form);
  }

  function lookUp(inputs, path) {
    let value = inputs;
    for (const key of path) value = value == null ? undefined : value[key];
    if (typeof value === "boolean") return value ? "yes" : "no";
    return value == null ? "" : String(value);
  }

  /** The unit stands beside the box already; a value in another unit keeps its own. */
  function withoutUnit(each, value) {
    const unit = each.parentElement.querySelector(".hb-unit");
    const tail = unit ? ` ${unit.textContent}` : "";
    return tail && value.endsWith(tail) ? value.slice(0, -tail.length) : value;
  }

  /** A row more, its marks in the units that the others have. */
  function addRow(rows) {
    const row = rows.querySelector("template").content.firstElementChild.cloneNode(true);
    const form = rows.closest("form");
    rows.querySelector("div").append(row);
    if (form.unitNames) nameUnits(form, form.unitNames);
    return row;
  }

  /** Rows are numbered afresh after each change, so that names and labels stay in order. */
  function number(rows) {
    const key = rows.dataset.rows;
    const place = new RegExp(`(^|-)${key}([.-])(?:#|\\d+)(?=[.-])`);
    rows.querySelectorAll(".hb-row").forEach((row, index) => {
      row.querySelector(".hb-row-name").textContent = `${row.dataset.noun} ${index + 1}`;
      for (const part of row.querySelectorAll("[name], [id], [for], [aria-describedby]")) {
        for (const mark of ["name", "id", "for", "aria-describedby"]) {
          const old = part.getAttribute(mark);
          if (old) part.setAttribute(mark, old.split(" ").map((each) => each.replace(place, `$1${key}$2${index}`)).join(" "));
        }
      }
    });
  }

  /** What depends on the values: fields that apply, marks that fit. */
  function follow(form) {
    const values = new Map(controls(form).reverse().map((each) => [each.name, each.value]));
    for (const field of form.querySelectorAll("[data-when]")) {
      const path = (field.dataset.rows ?? field.querySelector("[name]").name).split(".");
      path[path.length - 1] = field.dataset.when;
      field.hidden = !field.dataset.is.split(" ").includes(values.get(path.join(".")));
    }
    // A part of which nothing applies is not there.
    for (const part of form.querySelectorAll(".hb-part")) {
      part.hidden = [...part.querySelectorAll(".hb-field, .hb-rows")].every((each) => each.hidden || each.closest(".hb-rows")?.hidden);
    }
    // “65 mm” stands alone: the mark of a box in inches would make it something else.
    for (const unit of form.querySelectorAll(".hb-unit")) {
      unit.hidden = !BARE.test(unit.parentElement.querySelector("input").value);
    }
    window.HandbookBrief?.refresh(form);
  }

  /** The marks beside the boxes, for bare numbers. @param {Record<string, string>} names a unit for each kind */
  function nameUnits(form, names) {
    form.unitNames = names;
    for (const unit of form.querySelectorAll("[data-unit-of]")) unit.textContent = names[unit.dataset.unitOf] || "";
  }

  /** Whether the browser, or a reader, has changed what the page was built with. */
  function isAsBuilt(form) {
    const radios = [...form.querySelectorAll("input[type=radio]")];
    return radios.every((each) => each.checked === each.defaultChecked) && controls(form).every(stands);
  }

  function stands(each) {
    if (each instanceof HTMLInputElement || isLong(each)) return each.value === each.defaultValue;
    const built = [...each.options].find((option) => option.defaultSelected) ?? each.options[0];
    return each.value === built.value;
  }

  window.HandbookInputs = { read, question, write, convert, control, rowsOf, rowCount, addRow, number, follow, nameUnits, isAsBuilt };
})();
