// Where the reader is, said once: a site, a cabinet, or nowhere yet. The header shows it; home, forms, checklists and
// sheets follow it until it is changed: window.HandbookHere. Needs parts.js and store.js before it.
(() => {
  "use strict";

  const ROOT = window.HandbookParts.root;
  const PARAMETER = "here";
  /** Where a browser keeps a store for each file, the links carry the choice. */
  const CARRIES = location.protocol === "file:" && !window.HandbookWhole;
  const WORDS = {
    nowhere: "Where?",
    title: "Where are you?",
    why: "Forms, checklists and sheets are then filled in for this place, until you change it.",
    none: "Nowhere yet",
    find: "Part of a name",
    close: "Close",
    missing: "The list of places is missing: copy the whole folder again.",
    at: (name) => `You are at: ${name}`,
    sites: "Sites",
    cabinets: "A cabinet, no site",
  };

  const shelf = window.HandbookStore.shelf("here", null, (value) => value === null || isPlace(value));
  const button = document.querySelector(".hb-here");
  const carried = fromAddress();
  let here = carried === undefined ? shelf.read().value : carried;
  let dialog = null;

  function isPlace(value) {
    return typeof value?.key === "string" && typeof value.name === "string" && Array.isArray(value.pages);
  }

  /** A choice that a link has carried; nothing of it is believed but its key. */
  function fromAddress() {
    const key = new URLSearchParams(location.search).get(PARAMETER);
    if (key === null) return undefined;
    const kept = shelf.read().value;
    if (kept?.key === key) return kept;
    if (!key) return null;
    load().then((places) => {
      const found = places.find((each) => each.key === key);
      if (found) put(found);
    }, () => {});
    return undefined;
  }

  /** @returns {Promise<object[]>} */
  function load() {
    return window.HandbookParts.load(`${ROOT}assets/places.js`, "places");
  }

  function put(place) {
    here = place;
    shelf.write(place);
    readdress();
    show();
    document.dispatchEvent(new CustomEvent("handbook-here", { detail: place }));
  }

  /** An address that still carries another place would bring it back with a reload. */
  function readdress() {
    const query = new URLSearchParams(location.search);
    if (!query.has(PARAMETER) || query.get(PARAMETER) === (here?.key ?? "")) return;
    query.set(PARAMETER, here?.key ?? "");
    try {
      history.replaceState(history.state, "", `${location.pathname}?${query}${location.hash}`);
    } catch {
      // A browser that refuses it for a file: the address stays as it was opened.
    }
  }

  // -- what follows it --------------------------------------------------------------------

  function show() {
    const name = here?.name ?? "";
    button.querySelector("span").textContent = name || WORDS.nowhere;
    button.setAttribute("aria-label", name ? WORDS.at(name) : WORDS.title);
    button.classList.toggle("hb-here--set", Boolean(here));
    for (const old of document.querySelectorAll(".hb-at, .hb-at-home")) old.remove();
    const title = document.querySelector("article h1");
    if (here && title) title.after(line(name), ...(document.querySelector(".hb-tasks") ? [home()] : []));
  }

  /** Printed on every sheet; on screen the header says it. */
  function line(name) {
    return made("p", { class: "hb-at" }, WORDS.at(name));
  }

  /** On the first page: the ways to the place's own pages. */
  function home() {
    const list = made("p", { class: "hb-at-home" });
    list.append(made("strong", {}, here.name), ...(here.kind === "site" ? [` ${here.cabinet} `] : [" "]));
    for (const [words, address] of here.pages) list.append(made("a", { href: ROOT + address, class: "hb-button" }, words));
    return list;
  }

  // -- the choice -------------------------------------------------------------------------

  async function choose() {
    dialog ??= await drawn();
    dialog.showModal();
    dialog.querySelector("input, button").focus();
  }

  async function drawn() {
    const box = made("dialog", { class: "hb-where", "aria-label": WORDS.title });
    const places = await load().catch(() => null);
    const close = made("button", { type: "button", class: "hb-button" }, WORDS.close);
    close.addEventListener("click", () => box.close());
    box.append(made("h2", {}, WORDS.title), made("p", {}, places ? WORDS.why : WORDS.missing));
    box.append(...(places ? chooser(box, places) : [window.HandbookParts.checkLink()]));
    box.append(close);
    document.body.append(box);
    return box;
  }

  function chooser(box, places) {
    const options = places.map((place) => option(box, place, place.name, place.kind === "site" ? place.cabinet : ""));
    const heads = [made("h3", {}, WORDS.sites), made("h3", {}, WORDS.cabinets)];
    const firstAlone = places.findIndex((each) => each.kind !== "site");
    const list = made("div", { class: "hb-where-list" });
    options.forEach((each, at) => {
      if (at === firstAlone) list.append(heads[1]);
      else if (!at) list.append(heads[0]);
      list.append(each);
    });
    const nowhere = option(box, null, WORDS.none, "");
    if (places.length < 13) return [nowhere, list];
    const find = made("input", { type: "search", "aria-label": WORDS.find, placeholder: WORDS.find });
    find.addEventListener("input", () => {
      const wanted = find.value.trim().toLowerCase();
      options.forEach((each) => (each.hidden = !each.textContent.toLowerCase().includes(wanted)));
    });
    return [find, nowhere, list];
  }

  function option(box, place, name, beside) {
    const chosen = made("button", { type: "button", class: "hb-where-one" }, name);
    if (beside) chosen.append(" ", made("span", { class: "hb-small" }, beside));
    chosen.addEventListener("click", () => {
      put(place);
      box.close();
    });
    return chosen;
  }

  function made(name, attributes = {}, text = "") {
    const element = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    element.textContent = text;
    return element;
  }

  /** Each file has a store of its own in some browsers: the choice goes along in the address. */
  function carry(event) {
    const link = event.target.closest("a[href]");
    if (!link || link.origin !== location.origin || !link.pathname.endsWith(".html") || !link.href.startsWith(ROOT)) return;
    // A link within the page stays within it: another address would load it anew.
    if (link.hash && link.pathname === location.pathname && link.search === location.search) return;
    const query = new URLSearchParams(link.search);
    query.set(PARAMETER, here?.key ?? "");
    link.search = `?${query}`;
  }

  button.hidden = false;
  button.addEventListener("click", choose);
  if (CARRIES) document.addEventListener("click", carry, true);
  shelf.watch(() => {
    here = shelf.read().value;
    show();
  });
  // A choice that a link has carried is this file's too, and so is that of no place.
  if (CARRIES && carried !== undefined) shelf.write(carried);
  window.HandbookHere = { get: () => here };
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", show);
  else show();
})();
