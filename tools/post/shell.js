// The part of the header that works with scripts alone (colors, search, the place), and the theme's settings: here once
// instead of in every page. It runs where that part stands, so that a page is never seen without it.
(() => {
  "use strict";

  const SHELL = {};

  const place = document.currentScript;
  const root = window.HandbookWhole?.folder ?? new URL("../../", place.src).href;
  const settings = document.createElement("script");
  settings.id = "__config";
  settings.type = "application/json";
  settings.textContent = JSON.stringify({ ...SHELL.settings, base: root, search: root + SHELL.settings.search });
  place.insertAdjacentHTML("beforebegin", SHELL.markup);
  place.after(settings);
})();
// The theme's own, which takes names without declaring them.
