// The theme's menu on a phone shows the page's contents within it, which stand in the page already: here they are copied.
(() => {
  "use strict";

  const contents = document.querySelector(".md-sidebar--secondary nav");
  const place = document.querySelector(".md-nav__link[for=__toc]")?.parentElement;
  if (!contents || !place || place.querySelector("nav")) return;
  const copy = contents.cloneNode(true);
  copy.setAttribute("aria-label", "Table of contents");
  place.append(copy);
})();
