// A log of thousands of lines in a form: pasted into its box, or read from a file that the reader opens. It stays in the
// page: nothing is sent anywhere. The box shows the first lines of a long one and the page holds the rest, so that a
// phone need not lay out ten thousand lines: window.HandbookLog. It needs inputs.js before it and comes before calculator.js.
"use strict";

(() => {
  /** Lines of a log that a box shows whole, and of a longer one. */
  const WHOLE = 300;
  const SHOWN = 6;
  /** No instrument of ours writes so much; what is larger is another file. */
  const LARGEST = 4000000;

  const WORDS = {
    open: "Open a file",
    away: "Take it away",
    none: "No lines yet.",
    count: (count) => `${count} line${count > 1 ? "s" : ""}.`,
    more: (count) => `${count} lines, all of them in use. The box shows the first ${SHOWN}.`,
    file: (name) => ` From ${name}.`,
    large: (name) => `${name} is too large for a log, and was not opened.`,
    binary: (name) => `${name} is no text. Save it as CSV, with commas or semicolons between its columns, and open that.`,
    unread: (name) => `${name} could not be read. Choose it again, or paste its lines.`,
  };

  /** What stands in a box whole. @param {HTMLTextAreaElement} box @param {string} text */
  function put(box, text, from = "") {
    const lines = text ? text.split("\n") : [];
    const isLong = lines.length > WHOLE;
    box.whole = isLong ? text : undefined;
    box.value = isLong ? `${lines.slice(0, SHOWN).join("\n")}\n…` : text;
    box.readOnly = isLong;
    tell(box, from);
  }

  function tell(box, from = "") {
    const text = box.whole ?? box.value;
    const count = text.trim() ? text.trim().split("\n").length : 0;
    const said = box.whole === undefined ? (count ? WORDS.count(count) : WORDS.none) : WORDS.more(count);
    const line = box.parentElement.querySelector(".hb-log-said");
    if (line) line.textContent = said + from;
    const away = box.parentElement.querySelector('[data-log="away"]');
    if (away) away.hidden = !count;
  }

  /** The text of a file: UTF-8 or UTF-16 by its mark, else what older instruments write. */
  function decoded(bytes) {
    const head = new Uint8Array(bytes.slice(0, 2));
    if (head[0] === 0xff && head[1] === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
    if (head[0] === 0xfe && head[1] === 0xff) return new TextDecoder("utf-16be").decode(bytes);
    try {
      return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    } catch {
      return new TextDecoder("windows-1252").decode(bytes);
    }
  }

  async function take(box, file) {
    try {
      if (file.size > LARGEST) return say(box, WORDS.large(file.name));
      const text = decoded(await file.arrayBuffer()).replace(/\r\n?/g, "\n");
      if (text.includes("\0")) return say(box, WORDS.binary(file.name));
      put(box, text.trim(), WORDS.file(file.name));
      box.dispatchEvent(new Event("input", { bubbles: true }));
    } catch {
      say(box, WORDS.unread(file.name));
    }
  }

  function say(box, text) {
    box.parentElement.querySelector(".hb-log-said").textContent = text;
  }

  function button(text, mark, act) {
    const made = Object.assign(document.createElement("button"), { type: "button", className: "hb-button", textContent: text });
    made.dataset.log = mark;
    made.addEventListener("click", act);
    return made;
  }

  /** Give a box its button, its line and its ears. @param {HTMLTextAreaElement} box */
  function furnish(box) {
    if (box.parentElement.querySelector(".hb-log-said")) return;
    const file = Object.assign(document.createElement("input"), { type: "file", accept: ".csv,.txt,.tsv,.log,text/plain,text/csv", hidden: true });
    file.addEventListener("change", (event) => {
      event.stopPropagation();
      if (file.files[0]) take(box, file.files[0]);
      file.value = ""; // the same file may be chosen again
    });
    file.addEventListener("input", (event) => event.stopPropagation());
    const away = button(WORDS.away, "away", () => {
      put(box, "");
      box.dispatchEvent(new Event("input", { bubbles: true }));
      box.focus();
    });
    const said = Object.assign(document.createElement("span"), { className: "hb-log-said hb-small" });
    said.setAttribute("role", "status");
    const bar = Object.assign(document.createElement("span"), { className: "hb-log-bar" });
    bar.append(button(WORDS.open, "open", () => file.click()), away, file);
    box.after(bar, said);
    // A long text that was pasted is held like one that was opened.
    box.addEventListener("input", () => {
      if (box.whole === undefined && box.value.split("\n").length > WHOLE) put(box, box.value);
      else tell(box);
    });
    put(box, box.whole ?? box.value);
  }

  addEventListener("handbook-form", ({ target }) => {
    for (const box of target.querySelectorAll(".hb-log textarea")) furnish(box);
  });

  window.HandbookLog = { put };
})();
