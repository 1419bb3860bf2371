/** Bytes out of text that carries sixteen bits a character; what a script may not hold stands behind an escape, with
 * its highest bit turned over. The first character says how many bytes of the last one are blank.
 * @param {string | Uint16Array} text the text, or the codes of its characters, which are written over
 * @returns {Uint8Array} */
function fromSixteenBits(text) {
  // The lower byte lies first, as in every machine that has a browser.
  const codes = typeof text === "string" ? codesOf(text) : text;
  const blank = Number(String.fromCharCode(codes[0]));
  let count = 0;
  for (let index = 1; index < codes.length; index++) {
    const code = codes[index];
    codes[count++] = code === 0xe000 ? codes[++index] ^ 0x8000 : code;
  }
  return new Uint8Array(codes.buffer, codes.byteOffset, 2 * count - blank);
}

function codesOf(text) {
  const codes = new Uint16Array(text.length);
  for (let index = 0; index < text.length; index++) codes[index] = text.charCodeAt(index);
  return codes;
}

/** A stream of an asset's bytes out of the texts of its parts, in order. Built by hand:
 * Blob.stream() fails in WebKit.
 * @param {() => Promise<string | null>} next the next part's text, null after the last
 * @param {(packed: Uint8Array) => void} seen hears of what each part carried
 * @returns {ReadableStream} */
function unpacked(next, seen = () => {}) {
  const packed = new ReadableStream({
    async pull(controller) {
      const text = await next();
      if (text === null) return controller.close();
      const packed = fromSixteenBits(text);
      seen(packed);
      controller.enqueue(packed);
    },
  });
  return packed.pipeThrough(new DecompressionStream("gzip"));
}
