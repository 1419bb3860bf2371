// Keeps the whole handbook for use without a signal.
// Each file is stored under the hash of its content, so that an update fetches only what
// changed, and each is checked against its hash, so that no two builds are ever mixed.
"use strict";

/** Filled in by app.py: the build, and the hash of each file.
 * @type {{build: string, files: Record<string, string>}} */
const HANDBOOK = {};

const STORE = "handbook-files";
const SCOPE = self.registration.scope;
/** Other handbooks on the same server have folders, and keys, of their own. */
const OWN = `${SCOPE}~kept/`;
const AT_ONCE = 6;
/** See listing.py: it cannot be kept, as it knows this script's own hash. */
const LISTING = new URL("manifest-of-files.js", SCOPE).href;

/** @param {string} path @returns {string} where a file's content is stored */
function keyOf(path) {
  // With its ending: two empty files may be of different types.
  return `${OWN}${HANDBOOK.files[path]}.${path.split(".").pop()}`;
}

self.addEventListener("install", (event) => event.waitUntil(keepAll()));
self.addEventListener("activate", (event) => event.waitUntil(takeOver()));
self.addEventListener("message", (event) => {
  if (event.data === "take-over") self.skipWaiting();
  else if (Object.hasOwn(HANDBOOK.files, event.data?.renew)) event.waitUntil(renew(event.data.renew, event.ports[0]));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.url === LISTING) return event.respondWith(listing());
  const path = request.method === "GET" ? pathOf(request.url) : null;
  if (path) event.respondWith(answer(path, request));
  else if (request.mode === "navigate") event.respondWith(unknown(request));
});

/** Fetch what is not kept yet, a few files at a time. What was fetched stays, so that a
 * broken-off install goes on from there. */
async function keepAll() {
  const store = await caches.open(STORE);
  const paths = Object.keys(HANDBOOK.files);
  const worker = async () => {
    for (let path = paths.shift(); path !== undefined; path = paths.shift()) await keep(store, path);
  };
  await Promise.all(Array.from({ length: AT_ONCE }, worker));
}

/** @param {Cache} store @param {string} path */
async function keep(store, path) {
  const key = keyOf(path);
  if (!(await store.match(key))) await store.put(key, await fresh(path));
}

/** Put the server's file in the place of one that is damaged here, which stays where there is no signal.
 * @param {string} path @param {MessagePort} port told the end */
async function renew(path, port) {
  try {
    const store = await caches.open(STORE);
    await store.put(keyOf(path), await fresh(path));
  } catch {
    // Asked again, it is found damaged again.
  }
  port.postMessage("done");
}

/** @param {string} path @returns {Promise<Response>} the server's file, if it is the one of this build */
async function fresh(path) {
  const response = await fetch(new URL(encodeURI(path), SCOPE), { cache: "reload" });
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  const content = await response.arrayBuffer();
  if ((await hashOf(content)) !== HANDBOOK.files[path]) {
    throw new Error(`${path} is not the file of build ${HANDBOOK.build}`);
  }
  // Made anew: a redirected response may not answer for a page.
  const type = response.headers.get("content-type") ?? "application/octet-stream";
  return new Response(content, { headers: { "content-type": type } });
}

/** @param {ArrayBuffer} content @returns {Promise<string>} */
async function hashOf(content) {
  const bytes = new Uint8Array(await crypto.subtle.digest("SHA-256", content));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Drop the files of older builds and answer for the pages that are open. */
async function takeOver() {
  const store = await caches.open(STORE);
  const wanted = new Set(Object.keys(HANDBOOK.files).map(keyOf));
  const stored = await store.keys();
  const ours = stored.filter(({ url }) => url.startsWith(OWN));
  await Promise.all(ours.filter(({ url }) => !wanted.has(url)).map((old) => store.delete(old)));
  await self.clients.claim();
}

/** @param {string} url @returns {string | null} the file it asks for, if it is one of ours */
function pathOf(url) {
  const { origin, pathname } = new URL(url);
  const start = new URL(SCOPE);
  if (origin !== start.origin || !pathname.startsWith(start.pathname)) return null;
  const path = decodeURIComponent(pathname.slice(start.pathname.length));
  const tries = path === "" || path.endsWith("/") ? [`${path}index.html`] : [path, `${path}.html`];
  return tries.find((name) => Object.hasOwn(HANDBOOK.files, name)) ?? null;
}

/** @param {string} path @param {Request} request */
async function answer(path, request) {
  const store = await caches.open(STORE);
  return (await store.match(keyOf(path))) ?? fetch(request);
}

/** The list of what is kept here, written as listing.py writes that of the folder: a server may hold a newer one. */
async function listing() {
  const told = JSON.stringify(HANDBOOK);
  const sum = await hashOf(new TextEncoder().encode(told));
  const script = `(self.HandbookAssets ??= {})["files"] = [${told},"${sum}"];\n`;
  return new Response(script, { headers: { "content-type": "text/javascript; charset=utf-8" } });
}

/** A page that is not ours: from the server, else the page for wrong addresses.
 * @param {Request} request */
async function unknown(request) {
  try {
    return await fetch(request);
  } catch {
    const store = await caches.open(STORE);
    const page = HANDBOOK.files["404.html"] && (await store.match(keyOf("404.html")));
    return page ? new Response(await placed(page), { status: 404, headers: page.headers }) : Response.error();
  }
}

/** The page for wrong addresses is made for a handbook at its server's top, and shown at any depth.
 * @param {Response} page @returns {Promise<string>} */
async function placed(page) {
  const top = new URL(SCOPE).pathname;
  const led = (tag) => tag.replace(/(\s(?:href|src)=["']?)\/(?!\/)/g, (_, before) => before + top);
  return (await page.text()).replace(/<[a-z][^>]*>/gi, led);
}
