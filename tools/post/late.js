// On a calculator's page Python comes first: the theme's own script (menu, search, colors) takes a
// tenth of a second from it. It waits for the first result, or for whoever touches the page before.
"use strict";

(() => {
  /** Where no result comes, as while the calculator lies far down the page. */
  const LATEST_MS = 1500;
  const TOUCHES = ["pointerdown", "keydown", "focusin"];

  const { theme } = document.currentScript.dataset;
  const calculator = document.querySelector("[data-calculator]");

  /** Light or dark as the device has it, which that script would set; a choice kept is set already. */
  function likeTheDevice() {
    const schemes = [...document.querySelectorAll("[data-md-color-media]")];
    const fitting = schemes.find((each) => matchMedia(each.dataset.mdColorMedia).matches);
    if (!fitting || window.__md_get?.("__palette")) return;
    document.body.dataset.mdColorScheme = fitting.dataset.mdColorScheme;
  }

  function load() {
    TOUCHES.forEach((kind) => removeEventListener(kind, load, true));
    watched.disconnect();
    if (document.querySelector("script[data-late]")) return;
    const script = document.createElement("script");
    script.src = theme;
    script.dataset.late = "";
    document.body.append(script);
  }

  const watched = new MutationObserver(() => calculator.dataset.state === "loading" || load());
  TOUCHES.forEach((kind) => addEventListener(kind, load, true));
  likeTheDevice();
  if (!calculator || !window.HandbookPython) load();
  else {
    watched.observe(calculator, { attributeFilter: ["data-state"] });
    window.HandbookPython.onstate((state) => {
      if (state === "ready" || state === "failed") setTimeout(load, LATEST_MS);
    });
  }
})();
