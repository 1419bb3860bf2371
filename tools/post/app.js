// Over http(s): offers the handbook for installing, keeps it for use without a signal,
// and says when a newer one is ready. Opened from a folder it does nothing.
"use strict";

(() => {
  const root = new URL("../../", document.currentScript.src);
  if (!root.protocol.startsWith("http")) return;

  // Not in the page itself: from a folder a browser refuses it and says so as an error.
  const link = document.createElement("link");
  link.rel = "manifest";
  link.href = new URL("app.webmanifest", root).href;
  document.head.append(link);

  const service = navigator.serviceWorker;
  if (!service) return; // http on another machine's address: no service workers there

  /** Only the page where the reader asked loads anew: others may hold typed numbers. */
  let asked = false;
  const hadWorker = Boolean(service.controller);

  const bar = document.createElement("div");
  bar.className = "handbook-update";
  bar.setAttribute("role", "status");
  document.body.append(bar);

  /** @param {ServiceWorkerRegistration} registration */
  function offer(registration) {
    if (bar.hasChildNodes()) return;
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "Reload";
    button.addEventListener("click", () => takeOver(registration));
    bar.append("A newer handbook is ready. ", button);
  }

  /** @param {ServiceWorkerRegistration} registration */
  function takeOver(registration) {
    asked = true;
    if (registration.waiting) registration.waiting.postMessage("take-over");
    else location.reload(); // another tab has already let it in
  }

  /** Hear of a worker that is being installed.
   * @param {ServiceWorkerRegistration} registration */
  function follow(registration) {
    const worker = registration.installing;
    worker?.addEventListener("statechange", () => {
      if (worker.state === "installed" && service.controller) offer(registration);
    });
  }

  async function register() {
    // Never the browser's stored copy of the list of files: it would hide an update.
    const registration = await service.register(new URL("sw.js", root), { updateViaCache: "none" });
    if (registration.waiting && service.controller) offer(registration);
    registration.addEventListener("updatefound", () => follow(registration));
    follow(registration);
    service.addEventListener("controllerchange", () => {
      if (asked) location.reload();
      else if (hadWorker) offer(registration);
    });
    await service.ready;
    document.documentElement.dataset.offline = "ready";
  }

  function begin() {
    register().catch((error) => {
      // The handbook works on; it is only not kept.
      document.documentElement.dataset.offline = "failed";
      console.warn("This handbook could not be kept for use without a signal:", error.message);
    });
  }

  // The whole handbook comes after the page that was asked for.
  if (document.readyState === "complete") begin();
  else addEventListener("load", begin, { once: true });
})();
