// A link that carries what was typed: made, read and checked: window.HandbookLink.
// What comes in an address may come from anybody: nothing of it reaches the form before all of it was checked.
"use strict";

(() => {
  /** No form of ours comes near; a longer text is not read at all. */
  const LONGEST = 200000;
  const LONGEST_VALUE = 200;
  const PARTS = ["calculator", "units", "rules", "inputs"];
  const UNITS = ["us", "si"];
  const COUNTRIES = { us: "the United States", ca: "Canada", uk: "the United Kingdom", eu: "the European Union", au: "Australia" };

  const WORDS = {
    damaged: "This link is damaged, or was cut off on its way: it cannot be read. Ask for it again.",
    empty: "This link carries no measurements. Ask for it again.",
    foreign: (name) => `This link belongs to another calculator${name}.`,
    old: (what) => `This link comes from another edition of the handbook: ${what} Ask for a new link, or type the values.`,
    many: (label, count, most) => `This link cannot be used: it holds ${count} of “${label}”, and there may be ${most} at most.`,
    value: (label) => `This link cannot be used: what it holds for “${label}” is no value.`,
    rules: (theirs, ours) => `This link was made under the rules of ${theirs}. This handbook works by those of ${ours}: so does the answer below.`,
    ruleless: "This link does not say whose rules it was made under. The answer below is by the rules of this handbook.",
  };

  class Unusable extends Error {}

  function refuse(text) {
    throw new Unusable(text);
  }

  function isSet(value) {
    return typeof value === "object" && value !== null && !Array.isArray(value);
  }

  function short(text) {
    return text.length > 40 ? `${text.slice(0, 40)}…` : text;
  }

  /** The address that carries what stands in a form. */
  function make({ calculator, units, rules, inputs }) {
    const text = JSON.stringify({ calculator, units, rules, inputs });
    return `${window.HandbookWhole?.page ?? location.href.split("#")[0]}#inputs=${encodeURIComponent(text)}`;
  }

  /** Whether an address is meant to carry inputs, however damaged. */
  function isOne(hash) {
    return hash.startsWith("#inputs=");
  }

  /** What a link carries. Throws Unusable with words for the reader. */
  function read(hash) {
    const link = parsed(hash);
    if (!isSet(link) || typeof link.calculator !== "string") refuse(WORDS.damaged);
    if (!isSet(link.inputs) || !Object.keys(link.inputs).length) refuse(WORDS.empty);
    if (!UNITS.includes(link.units)) refuse(WORDS.damaged);
    if (link.rules !== undefined && !Object.hasOwn(COUNTRIES, link.rules)) refuse(WORDS.old("its rules are not known here."));
    const strange = Object.keys(link).find((key) => !PARTS.includes(key));
    if (strange !== undefined) refuse(WORDS.old(`“${short(strange)}” is not known here.`));
    return link;
  }

  function parsed(hash) {
    if (hash.length > LONGEST) refuse(WORDS.damaged);
    try {
      return JSON.parse(decodeURIComponent(hash.slice("#inputs=".length)));
    } catch {
      return refuse(WORDS.damaged);
    }
  }

  /** Hold a link against the form that it is meant for. Throws Unusable. */
  function check(link, name, form) {
    if (link.calculator !== name) refuse(WORDS.foreign(/^[a-z]{1,20}$/.test(link.calculator) ? ` (${link.calculator})` : ""));
    for (const [key, value] of Object.entries(link.inputs)) {
      const rows = window.HandbookInputs.rowsOf(form, key);
      if (rows) checkRows(rows, value);
      else checkOne(window.HandbookInputs.control(form, key), key, value);
    }
  }

  function checkRows(rows, list) {
    const label = rows.querySelector("legend").textContent;
    const most = Number(rows.dataset.most);
    if (!Array.isArray(list) || !list.every(isSet)) refuse(WORDS.value(label));
    if (list.length > most) refuse(WORDS.many(label, list.length, most));
    const blank = rows.querySelector("template").content;
    for (const row of list) {
      for (const [key, value] of Object.entries(row)) {
        const name = `${rows.dataset.rows}.#.${key}`;
        checkOne([...blank.querySelectorAll("[name]")].find((each) => each.name === name), key, value);
      }
    }
  }

  function checkOne(control, key, value) {
    if (!control || control.type === "radio") refuse(WORDS.old(`“${short(key)}” is not asked for here.`));
    const text = typeof value === "boolean" ? (value ? "yes" : "no") : String(value);
    if (!isValue(value) || text.length > LONGEST_VALUE) refuse(WORDS.value(short(key)));
    const options = control.options && [...control.options].map((each) => each.value);
    if (options && !options.includes(text)) refuse(WORDS.old(`“${short(text)}” is no choice for “${short(key)}”.`));
  }

  function isValue(value) {
    return Number.isFinite(value) || typeof value === "string" || typeof value === "boolean";
  }

  /** What a reader must know of a link that was taken, or nothing. */
  function remark({ rules }, ours) {
    if (rules === undefined) return WORDS.ruleless;
    return rules === ours ? "" : WORDS.rules(COUNTRIES[rules], COUNTRIES[ours]);
  }

  window.HandbookLink = { make, isOne, read, check, remark, Unusable };
})();
