// The page “Check this copy”: known cases worked out here, and every file that can be compared.
// Plain script; it needs parts.js, sum.js, copycases.js and copyfiles.js before it. It starts nothing by itself.
(() => {
  "use strict";

  const { own, folder, root } = window.HandbookCopyFiles;
  const isFile = !root.protocol.startsWith("http");
  const isOne = Boolean(window.HandbookWhole);
  const MOST = 40; // names: a screen of them says it

  const WORDS = {
    start: "Check this copy",
    again: "Check again",
    cases: (at, of) => `Working out case ${at} of ${of} …`,
    files: "Comparing files …",
    right: (of) => `All ${of} cases came out right.`,
    wrong: (count, of) => `${count} of ${of} cases came out wrong. Do not use the calculators of this copy.`,
    list: "The cases, one by one: source, what it says, what came out here",
    stuck: "The cases could not be worked out.",
    good: (count) => `All ${count} files are as they were built.`,
    partly: (count, of) => `${count} of ${of} files could be compared, and they are as they were built: the calculators’ parts, their forms and the search.`,
    bad: (count, of) => `Not as they were built: ${count} of ${of} files.`,
    unseen: (count) => `Not compared: ${count} files, among them the pages, styles and pictures. A browser lets no page that is opened as a file read them. Choose the folder below to have every file compared.`,
    more: "All that was built is there and good. Beside it lie files that are not of this handbook: left over from another build, or put there by somebody. Delete them if you do not know them.",
    one: "This handbook is one file, in which all others lie packed. A browser cannot read it again from within: compare its SHA-256 with the one that was sent along, or have the file sent again.",
    mend: isOne ? "What to do: have the file sent again." : isFile
      ? "What to do: delete this folder and copy the whole handbook again from where it is good. Then check the new copy."
      : "What to do: check again with a signal, which fetches these files anew. If it stays so, tell the person who looks after the handbook: it must be put on the server again.",
    missingList: "The list of files is missing from this copy, so no file can be compared.",
    damagedList: "The list of files is damaged, so no file can be compared.",
    choose: "Check every file",
    chooseHow: "Choose the folder that this handbook lies in, the one with index.html. The browser may speak of uploading: nothing leaves this device.",
    chooseNot: "This browser cannot choose a folder. Open the handbook in another one, or have it checked with Python.",
    noHandbook: "There is no handbook in that folder. Choose the folder that holds index.html.",
    other: (build) => `The folder holds another build (${build}) than this page; it was compared with its own list.`,
    kinds: [["damaged", "Damaged, or from another build"], ["missing", "Missing"], ["unread", "Could not be read"], ["more", "Not of this handbook"]],
  };

  function element(name, text = "", attributes = {}) {
    const made = document.createElement(name);
    made.textContent = text;
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    return made;
  }

  /** A part of the check: what is going on, how far it is, and what came out. */
  class Part {
    /** @param {HTMLElement} place @param {string} title */
    constructor(place, title) {
      this.said = element("p", "", { class: "hb-whole-said", role: "status" }); // printed too
      this.bar = element("progress", "", { max: "1", "aria-label": title });
      this.result = element("div");
      const part = element("section", "", { "aria-label": title });
      part.append(element("h2", title), this.said, this.bar, this.result);
      place.append(part);
      this.part = part;
    }

    /** @param {string} text @param {number} share */
    going(text, share) {
      this.said.textContent = text;
      this.bar.hidden = false;
      this.bar.value = share;
    }

    /** @param {"pass" | "stop" | "unknown"} outcome @param {string} text @param {(Node | string)[]} rest */
    ended(outcome, text, ...rest) {
      this.part.dataset.outcome = outcome;
      this.bar.hidden = true;
      this.said.textContent = text;
      this.result.replaceChildren(...rest);
    }
  }

  /** One case as a line of the list. */
  function line(one, { here, isRight }) {
    const made = element("li", "", { "data-outcome": isRight ? "pass" : "stop" });
    const isOurs = one.kind === "answer";
    const about = element("span", isOurs ? one.source : `${one.source} (${one.status})`, { class: "hb-hint" });
    const says = isOurs ? "Built with" : "By the source";
    const sums = element("span", one.printed === here ? `${says} and here: ${here}` : `${says}: ${one.printed} · here: ${here}`);
    made.append(element("strong", isRight ? "Right" : "Wrong", { class: "hb-mark" }), element("b", one.what), about, sums);
    return made;
  }

  async function cases(part, { cases: listed }) {
    const list = element("ol", "", { class: "hb-cases" });
    const fold = element("details");
    fold.append(element("summary", WORDS.list), list);
    part.result.replaceChildren(fold);
    let wrong = 0;
    for (const [at, one] of listed.entries()) {
      part.going(WORDS.cases(at + 1, listed.length), at / listed.length);
      const found = await window.HandbookCopyCases.worked(one);
      wrong += !found.isRight;
      list.append(line(one, found));
    }
    fold.open = wrong > 0;
    const rest = wrong ? [element("p", WORDS.mend), fold] : [fold];
    part.ended(wrong ? "stop" : "pass", wrong ? WORDS.wrong(wrong, listed.length) : WORDS.right(listed.length), ...rest);
  }

  function names(found) {
    return WORDS.kinds.filter(([key]) => found[key].length).flatMap(([key, words]) => {
      const list = element("ul", "", { class: "hb-names" });
      list.append(...found[key].slice(0, MOST).map((name) => element("li", name)));
      const left = found[key].length - MOST;
      if (left > 0) list.append(element("li", `… and ${left} more`));
      return [element("h3", `${words} (${found[key].length})`), list];
    });
  }

  /** @param {Part} part @param {import("./copyfiles").Found} found */
  function show(part, found, note = "") {
    const bad = found.damaged.length + found.missing.length + found.unread.length;
    const of = found.good.length + found.unseen.length + bad;
    const rest = [...(note ? [element("p", note)] : []), ...names(found)];
    if (bad) rest.push(element("p", WORDS.mend));
    else if (found.more.length) rest.push(element("p", WORDS.more));
    if (found.unseen.length) rest.push(element("p", WORDS.unseen(found.unseen.length)));
    const good = found.unseen.length ? WORDS.partly(found.good.length, of) : WORDS.good(of);
    part.ended(bad ? "stop" : found.unseen.length || found.more.length ? "unknown" : "pass", bad ? WORDS.bad(bad, of) : good, ...rest);
  }

  async function files(part) {
    try {
      show(part, await own((share) => part.going(WORDS.files, share)));
    } catch (error) {
      part.ended("stop", error.message === "missing" ? WORDS.missingList : WORDS.damagedList, element("p", WORDS.mend));
    }
  }

  async function known(part) {
    try {
      await cases(part, await window.HandbookParts.load(new URL("assets/copy.js", root).href, "copy"));
    } catch (error) {
      part.ended("stop", `${WORDS.stuck} ${error.plain ? error.message : ""}`, element("p", WORDS.mend));
    }
  }

  /** The reader's own folder, of which a browser reads every file. */
  async function chosen(part, box) {
    if (!box.files.length) return;
    const { stray } = await window.HandbookParts.load(new URL("assets/copy.js", root).href, "copy").catch(() => ({ stray: "(?!)" }));
    const found = await folder(box.files, new RegExp(stray), (share) => part.going(WORDS.files, share)).catch(() => null);
    if (!found) return part.ended("unknown", WORDS.noHandbook);
    const mine = window.HandbookAssets?.files?.[0].build;
    show(part, found, mine && mine !== found.build ? WORDS.other(found.build) : "");
  }

  function chooser(place) {
    const part = new Part(place, WORDS.choose);
    part.bar.hidden = true;
    const box = element("input", "", { type: "file", multiple: "", webkitdirectory: "", id: "hb-folder", "aria-describedby": "hb-folder-how" });
    if (!("webkitdirectory" in box)) return part.ended("unknown", WORDS.chooseNot);
    const label = element("label", WORDS.chooseHow, { for: "hb-folder", id: "hb-folder-how", class: "hb-screen-only" });
    box.className = "hb-screen-only";
    part.said.before(label, box);
    box.addEventListener("change", () => chosen(part, box));
  }

  function begin(place) {
    const button = element("button", WORDS.start, { type: "button", class: "hb-button hb-button--main" });
    const results = element("div");
    place.replaceChildren(button, results);
    button.addEventListener("click", async () => {
      button.disabled = true;
      results.replaceChildren();
      const [first, second] = [new Part(results, "Cases"), new Part(results, "Files")];
      second.bar.hidden = true;
      await known(first);
      if (isOne) second.ended("unknown", WORDS.one);
      else await files(second);
      if (isFile && !isOne) chooser(results);
      button.disabled = false;
      button.textContent = WORDS.again;
      place.dataset.state = "done";
    });
  }

  for (const place of document.querySelectorAll("[data-copy-check]")) begin(place);
})();
