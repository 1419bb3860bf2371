// How a page gets the parts of Python that lie beside its script. Part of runtime.js, which stands around it.

const here = document.currentScript.src;
const QUOTE = '"'.charCodeAt(0);

/** An error whose message is for the reader; every other one is the machine's. */
class Plain extends Error {
  plain = true;
}

const missing = (name) =>
  `A part of this handbook is missing: ${name}.js. Try again; if that does not help, copy the whole handbook again.`;

/** One part's text, or the codes of its characters.
 * @returns {Promise<string | Uint16Array>} */
function loadPart(asset, index) {
  const name = `python-${asset}-${index}`;
  if (window.HandbookWhole) return window.HandbookWhole.part(name); // all is one file
  return location.protocol === "file:" ? loadTag(name) : fetchPart(name);
}

/** Over a line a part need not be a script, which the page itself would have to read: between its quotes stand the codes.
 * @returns {Promise<Uint16Array>} */
async function fetchPart(name) {
  const answer = await fetch(new URL(`${name}.js`, here)).catch(() => null);
  const bytes = answer?.ok && (await answer.arrayBuffer().catch(() => null));
  if (!bytes) throw new Plain(missing(name));
  const codes = new Uint16Array(bytes, 0, bytes.byteLength >> 1);
  let first = -1;
  // Two stand around the name.
  for (let quotes = 0; quotes < 3; quotes++) first = codes.indexOf(QUOTE, first + 1);
  const last = codes.lastIndexOf(QUOTE);
  if (first < 0 || last <= first) throw new Error(`${name}.js holds no part`);
  return codes.subarray(first + 1, last);
}

/** Add one asset's script tag. Its text is taken off the global at once, so
 * that the page does not keep megabytes it never reads again.
 * @returns {Promise<string>} */
function loadTag(name) {
  const script = document.createElement("script");
  return new Promise((resolve, reject) => {
    script.onload = () => {
      const text = window.HandbookAssets?.[name];
      if (!text) return reject(new Error(`${name}.js holds no part`));
      delete window.HandbookAssets[name];
      script.remove();
      resolve(text);
    };
    script.onerror = () => reject(new Plain(missing(name)));
    script.src = new URL(`${name}.js`, here).href;
    document.head.append(script);
  });
}
