/** Bytes out of text that carries seven bits a character: eight characters hold seven bytes.
 * @param {string} text @returns {Uint8Array} */
function fromSevenBits(text) {
  const bytes = new Uint8Array(Math.floor((text.length * 7) / 8));
  let held = 0;
  let bits = 0;
  let count = 0;
  for (let index = 0; index < text.length; index++) {
    held = ((held << 7) | (text.charCodeAt(index) & 127)) & 0x7fff;
    bits += 7;
    if (bits < 8) continue;
    bits -= 8;
    bytes[count++] = held >> bits;
  }
  return bytes;
}

/** A stream of an asset's bytes out of the texts of its parts, in order. Built by hand:
 * Blob.stream() fails in WebKit.
 * @param {() => Promise<string | null>} next the next part's text, null after the last
 * @returns {ReadableStream} */
function unpacked(next) {
  const packed = new ReadableStream({
    async pull(controller) {
      const text = await next();
      if (text === null) controller.close();
      else controller.enqueue(fromSevenBits(text));
    },
  });
  return packed.pipeThrough(new DecompressionStream("gzip"));
}
