// Lets the keyboard reach what the theme keeps from it: the parts that scroll (which ones
// do, only the laid-out page knows) and the openers of menu and search.
"use strict";

(() => {
  const SCROLLS = ".md-typeset__scrollwrap, .hb-scroll";

  /** @param {HTMLElement} part */
  function isWider(part) {
    return part.scrollWidth > part.clientWidth + 1;
  }

  /** @param {HTMLElement} part @param {boolean} scrolls */
  function mend(part, scrolls) {
    if (scrolls === part.hasAttribute("data-reach")) return;
    part.toggleAttribute("data-reach", scrolls);
    if (scrolls) open(part);
    else ["tabindex", "role", "aria-label"].forEach((name) => part.removeAttribute(name));
  }

  /** @param {HTMLElement} part */
  function open(part) {
    part.tabIndex = 0;
    part.setAttribute("role", "region");
    part.setAttribute("aria-label", nameOf(part));
  }

  /** The caption, else the heading before it.
   * @param {HTMLElement} part */
  function nameOf(part) {
    const title = part.querySelector("caption") ?? headingBefore(part);
    const words = title?.firstChild?.textContent?.trim();
    const number = [...document.querySelectorAll(SCROLLS)].indexOf(part) + 1;
    return words ? `Table ${number}: ${words}` : `Table ${number}`;
  }

  /** @param {HTMLElement} part */
  function headingBefore(part) {
    const all = [...document.querySelectorAll("article :is(h1, h2, h3, h4)")];
    const earlier = (heading) =>
      heading.compareDocumentPosition(part) & Node.DOCUMENT_POSITION_FOLLOWING;
    return all.filter(earlier).at(-1);
  }

  // A part is watched together with what is in it: either may change its width.
  const sizes = new ResizeObserver((entries) => {
    const parts = [...new Set(entries.map(({ target }) => target.closest(SCROLLS)))].filter(Boolean);
    // All are asked before any is changed: a change has the page laid out anew for the next question.
    const wider = parts.map(isWider);
    parts.forEach((part, at) => mend(part, wider[at]));
  });

  function watch() {
    document.querySelectorAll(SCROLLS).forEach((part) => {
      sizes.observe(part);
      if (part.firstElementChild) sizes.observe(part.firstElementChild);
    });
  }

  const article = document.querySelector("article");
  watch();
  // The theme wraps tables after this script has run; calculators add theirs later.
  if (article) new MutationObserver(watch).observe(article, { childList: true, subtree: true });

  // --- headings: the sign that leads to each stands here once instead of at every one of them ---

  const SIGNED = "article :is(h1, h2, h3, h4, h5, h6)[id]:not([data-bare])";

  /** @param {HTMLElement} heading */
  function sign(heading) {
    const link = document.createElement("a");
    link.className = "headerlink";
    link.href = `#${heading.id}`;
    link.title = "Link to this part";
    link.setAttribute("aria-label", link.title);
    link.textContent = "\u00b6";
    heading.append(link);
  }

  document.querySelectorAll(SIGNED).forEach(sign);

  // --- menu and search: the theme opens them by labels, which cannot be focused ---

  const OPENERS = { __drawer: "Menu", __search: "Search" };

  /** Put a button where a label is; without this script the label still works.
   * @param {HTMLLabelElement} label */
  function makeButton(label) {
    const box = /** @type {HTMLInputElement} */ (document.getElementById(label.htmlFor));
    const button = document.createElement("button");
    button.type = "button";
    button.className = `${label.className} hb-opener`;
    button.dataset.opens = box.id;
    button.setAttribute("aria-label", OPENERS[box.id]);
    button.append(...label.childNodes);
    label.after(button);
    label.hidden = true;
    // The label's own click also brings up a phone's keyboard.
    button.addEventListener("click", () => label.click());
    const tell = () => button.setAttribute("aria-expanded", String(box.checked));
    box.addEventListener("change", tell);
    tell();
    return { box, button };
  }

  const headers = document.querySelectorAll(".md-header label.md-header__button[for]");
  const openers = [...headers].filter(({ htmlFor }) => htmlFor in OPENERS).map(makeButton);

  document.addEventListener("keydown", (event) => {
    const open = openers.find(({ box }) => box.id === "__drawer" && box.checked);
    if (event.key !== "Escape" || !open) return;
    open.box.click();
    open.button.focus();
  });
})();
