// Works known cases out on this device and sets them beside what was printed: window.HandbookCopyCases.
// Plain script; it asks Python as a calculator does.
"use strict";

(() => {
  /** As published.py reads an answer: a number, or the word of a check. @returns {{value: number | string, text: string} | null} */
  function told(answer, { kind, key, at }) {
    if (answer.errors) return null;
    if (kind === "answer") return { value: "", text: answer.headline };
    if (kind === "step") return number(answer.working.flatMap(({ steps }) => steps).find(({ symbol }) => symbol === key)?.value);
    if (kind === "value") return number(answer.values.find((each) => each.key === key)?.inner);
    if (kind === "cell") return cell(answer.tables.find((each) => each.key === at), key);
    const check = answer.checks.find((each) => each.key === key && (!at || each.at === at));
    if (!check) return null;
    return kind === "limit" ? number(check.limit) : { value: check.outcome, text: check.word };
  }

  function number(value) {
    return typeof value === "number" ? { value, text: "" } : null;
  }

  function cell(table, key) {
    const text = table?.rows[0]?.[table.keys.indexOf(key)];
    return text === undefined ? null : { value: text, text };
  }

  /** What all of an answer says that a reader reads, for the hash that the build took of it. */
  function read(answer) {
    return JSON.stringify([answer.outcome, answer.headline, answer.values.map(({ text }) => text), answer.checks.map(({ text }) => text)]);
  }

  /** @returns {Promise<{here: string, isRight: boolean}>} */
  async function worked(one) {
    const answer = JSON.parse(await window.HandbookPython.run(one.calculator, JSON.stringify(one.request)));
    const found = told(answer, one);
    if (!found) return { here: "no answer", isRight: false };
    if (one.kind === "answer") return { here: found.text, isRight: (await window.HandbookSum(read(answer))) === one.sum };
    if (typeof found.value === "string") return { here: found.text, isRight: found.value === one.expected };
    const value = found.value * (one.scale ?? 1);
    const here = `${value.toFixed(one.digits)}${one.unit ? ` ${one.unit}` : ""}`;
    return { here, isRight: Math.abs(value - one.expected) <= one.tolerance * (1 + 1e-9) };
  }

  window.HandbookCopyCases = { worked };
})();
