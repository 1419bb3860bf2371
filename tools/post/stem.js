// The stem of an English word, so that endings do not matter: M. F. Porter, "An algorithm for suffix
// stripping", Program 14(3), 1980, with the changes that its author's own program makes (logi, bli) and a y that stays after a vowel (pay, survey).
// Only a word of plain small letters is changed.
"use strict";

const HandbookStem = (() => {
  const C = "[^aeiou][^aeiouy]*", V = "[aeiouy][aeiou]*";
  const ONCE = new RegExp(`^(?:${C})?${V}${C}`);
  const EXACTLY_ONCE = new RegExp(`^(?:${C})?${V}${C}(?:${V})?$`);
  const TWICE = new RegExp(`^(?:${C})?${V}${C}${V}${C}`);
  const VOWEL = new RegExp(`^(?:${C})?[aeiouy]`);
  const SHORT = new RegExp(`^${C}[aeiouy][^aeiouwxy]$`);
  const SECOND = pairs("ational ate tional tion enci ence anci ance izer ize bli ble alli al entli ent eli e "
    + "ousli ous ization ize ation ate ator ate alism al iveness ive fulness ful ousness ous aliti al iviti ive "
    + "biliti ble logi log");
  const THIRD = pairs("icate ic ative - alize al iciti ic ical ic ful - ness -");
  const FOURTH = /^(.+?)(al|ance|ence|er|ic|able|ible|ant|ement|ment|ent|ou|ism|ate|iti|ous|ive|ize)$/;

  /** @param {string} text @returns {[string, string][]} endings with what stands for them, the longest first */
  function pairs(text) {
    const words = text.split(" ").map((word) => word.replace("-", ""));
    /** @type {[string, string][]} */
    const found = [];
    for (let i = 0; i < words.length; i += 2) found.push([words[i], words[i + 1]]);
    return found.sort((a, b) => b[0].length - a[0].length);
  }

  /** @param {string} word */
  function plural(word) {
    if (/(ss|i)es$/.test(word)) return word.slice(0, -2);
    return /[^s]s$/.test(word) ? word.slice(0, -1) : word;
  }

  /** @param {string} word */
  function past(word) {
    if (word.endsWith("eed")) return ONCE.test(word.slice(0, -3)) ? word.slice(0, -1) : word;
    const found = /^(.+)(ed|ing)$/.exec(word);
    if (!found || !VOWEL.test(found[1])) return word;
    const stem = found[1];
    if (/(at|bl|iz)$/.test(stem)) return `${stem}e`;
    if (/([^aeiouylsz])\1$/.test(stem)) return stem.slice(0, -1);
    return SHORT.test(stem) ? `${stem}e` : stem;
  }

  /** @param {string} word @param {[string, string][]} endings */
  function swapped(word, endings) {
    const found = endings.find(([ending]) => word.endsWith(ending));
    if (!found) return word;
    const stem = word.slice(0, -found[0].length);
    return ONCE.test(stem) ? stem + found[1] : word;
  }

  /** @param {string} word */
  function stripped(word) {
    const found = FOURTH.exec(word) ?? /^(.+?[st])(ion)$/.exec(word);
    return found && TWICE.test(found[1]) ? found[1] : word;
  }

  /** @param {string} word */
  function last(word) {
    const stem = word.slice(0, -1);
    if (word.endsWith("e") && (TWICE.test(stem) || (EXACTLY_ONCE.test(stem) && !SHORT.test(stem)))) word = stem;
    return word.endsWith("ll") && TWICE.test(word) ? word.slice(0, -1) : word;
  }

  /** @param {string} word in small letters @returns {string} */
  function work(word) {
    if (word.length < 3 || !/^[a-z]+$/.test(word)) return word;
    // A y that begins the word is a consonant.
    const first = word[0] === "y" ? "Y" + word.slice(1) : word;
    let stem = past(plural(first));
    if (/^.+[^aeiou]y$/.test(stem)) stem = `${stem.slice(0, -1)}i`;
    return last(stripped(swapped(swapped(stem, SECOND), THIRD))).toLowerCase();
  }

  return work;
})();
