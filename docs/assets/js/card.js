// What a page says of the reader's own cabinet and site, once the header knows where they are: of several models' words
// those of this one, no steps for what it does not have, and the site's own facts. Needs parts.js and here.js before it.
(() => {
  "use strict";

  const WORDS = {
    none: (name) => `${name} does not have this.`,
    blank: (said) => `${said}: nothing is written there yet`,
  };

  /** What a fact's place said when the page was built. */
  const before = new WeakMap();

  function show() {
    const here = window.HandbookHere?.get() ?? null;
    const machine = known(here?.machine ?? "");
    for (const each of document.querySelectorAll("[data-for]")) {
      const mine = !machine || each.dataset.for.split(" ").includes(machine);
      if (each.matches("li.hb-step")) fold(each, mine);
      else each.hidden = !mine;
    }
    for (const each of document.querySelectorAll("li:not(.hb-step), .hb-record tr")) hideEmpty(each);
    for (const each of document.querySelectorAll(".hb-whose")) each.hidden = Boolean(machine);
    for (const each of document.querySelectorAll(".hb-oncard, .hb-incard")) tellNone(each, machine, here);
    document.dispatchEvent(new CustomEvent("handbook-folded"));
    facts(here);
  }

  /** A place that was kept from another edition may name a cabinet that is gone: then every model's words stand. */
  function known(machine) {
    const named = [...document.querySelectorAll("[data-for]")].some((each) => each.dataset.for.split(" ").includes(machine));
    return named ? machine : "";
  }

  /** Steps for other cabinets: the first keeps its head, which names them all. */
  function fold(step, mine) {
    const head = step.querySelector(":scope > .hb-only-head");
    step.classList.toggle("hb-folded", !mine);
    step.hidden = !mine && !head;
  }

  /** A bullet or a record's line of which nothing is left for this cabinet goes too. */
  function hideEmpty(line) {
    const words = line.matches("tr") ? line.querySelector("th") : line;
    if (!words?.querySelector(":scope > [data-for]")) return;
    line.hidden = [...words.childNodes].every((each) => (each.nodeType === Node.TEXT_NODE ? !each.data.trim() : each.hidden || each.matches(".hb-hint")));
  }

  /** A cabinet that lacks a thing has no words for it; the place would stand empty. */
  function tellNone(place, machine, here) {
    place.querySelector(".hb-none")?.remove();
    const own = [...place.querySelectorAll("[data-for]")];
    if (!machine || !own.length || own.some((each) => !each.hidden)) return;
    const told = document.createElement("span");
    told.className = "hb-none";
    told.textContent = WORDS.none(here.cabinet);
    place.append(told);
  }

  async function facts(here) {
    const places = [...document.querySelectorAll("[data-fact]")];
    if (!places.length) return;
    for (const each of places) {
      if (!before.has(each)) before.set(each, each.textContent);
      each.textContent = before.get(each);
    }
    if (here?.kind !== "site") return;
    const listed = await window.HandbookParts.load(`${window.HandbookParts.root}assets/places.js`, "places").catch(() => []);
    const known = listed.find((each) => each.key === here.key)?.facts;
    if (known && window.HandbookHere.get()?.key === here.key) for (const each of places) tell(each, known[each.dataset.fact]);
  }

  function tell(place, words) {
    place.textContent = words || WORDS.blank(before.get(place));
  }

  document.addEventListener("handbook-here", show);
  addEventListener("storage", show);
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", show);
  else show();
})();
