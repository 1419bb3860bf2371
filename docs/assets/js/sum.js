// SHA-256 of bytes: window.HandbookSum. The browser's own is there on secure addresses only, which neither a file in
// every engine nor a server in one's own network is. Plain script; after FIPS 180-4.
"use strict";

(() => {
  const SLICE = 1 << 18; // bytes between two breaths of the page: a slow phone does as many in 20 ms

  /** The first 32 bits of what follows the point in a root. @param {number} value @param {number} root */
  function fraction(value, root) {
    const found = value ** (1 / root);
    return ((found - Math.floor(found)) * 2 ** 32) | 0;
  }

  /** @param {number} count @returns {number[]} so many primes */
  function primes(count) {
    const found = [2];
    for (let each = 3; found.length < count; each += 2) if (found.every((prime) => each % prime)) found.push(each);
    return found;
  }

  const ROUNDS = Int32Array.from(primes(64), (prime) => fraction(prime, 3));
  const START = primes(8).map((prime) => fraction(prime, 2));

  const turned = (word, by) => (word >>> by) | (word << (32 - by));

  /** Take in whole blocks of 64 bytes. @param {Int32Array} state @param {DataView} view */
  function blocks(state, view, from, to) {
    const w = new Int32Array(64);
    for (let at = from; at < to; at += 64) {
      for (let i = 0; i < 16; i++) w[i] = view.getInt32(at + 4 * i);
      for (let i = 16; i < 64; i++) {
        const x = w[i - 15], y = w[i - 2];
        w[i] = w[i - 16] + (turned(x, 7) ^ turned(x, 18) ^ (x >>> 3)) + w[i - 7] + (turned(y, 17) ^ turned(y, 19) ^ (y >>> 10));
      }
      mix(state, w);
    }
  }

  function mix(state, w) {
    let [a, b, c, d, e, f, g, h] = state;
    for (let i = 0; i < 64; i++) {
      const one = (h + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + ((e & f) ^ (~e & g)) + ROUNDS[i] + w[i]) | 0;
      const two = ((turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      h = g; g = f; f = e; e = (d + one) | 0; d = c; c = b; b = a; a = (one + two) | 0;
    }
    [a, b, c, d, e, f, g, h].forEach((word, i) => (state[i] += word));
  }

  /** What is left of a text after its last whole block, with its length. @param {Uint8Array} bytes */
  function ending(bytes) {
    const left = bytes.length % 64;
    const made = new Uint8Array(left < 56 ? 64 : 128);
    made.set(bytes.subarray(bytes.length - left));
    made[left] = 0x80;
    const view = new DataView(made.buffer);
    view.setUint32(made.length - 8, Math.floor(bytes.length / 2 ** 29));
    view.setUint32(made.length - 4, (bytes.length << 3) >>> 0);
    return view;
  }

  /** @param {Uint8Array | string} given a text stands for its UTF-8 @returns {Promise<string>} in hexadecimal */
  async function sum(given) {
    const bytes = typeof given === "string" ? new TextEncoder().encode(given) : given;
    const state = Int32Array.from(START);
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const whole = bytes.length - (bytes.length % 64);
    for (let at = 0; at < whole; at += SLICE) {
      blocks(state, view, at, Math.min(whole, at + SLICE));
      if (at + SLICE < whole) await new Promise((done) => setTimeout(done));
    }
    const last = ending(bytes);
    blocks(state, last, 0, last.byteLength);
    return Array.from(state, (word) => (word >>> 0).toString(16).padStart(8, "0")).join("");
  }

  window.HandbookSum = sum;
})();
