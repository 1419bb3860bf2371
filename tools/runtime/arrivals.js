/** @type {Record<string, number>} how many parts each asset has */
let parts = {};
/** @type {Map<string, {promise: Promise<string>, arrive: (text: string) => void}>} */
const slots = new Map();
/** @type {Record<string, number[]>} the last eight bytes of each asset as it is packed: gzip's checksum and length */
const ends = {};

/** Parts come in any order, before or after someone waits for them. */
function slot(asset, index) {
  const key = `${asset}-${index}`;
  if (!slots.has(key)) {
    let arrive;
    const promise = new Promise((resolve) => (arrive = resolve));
    slots.set(key, { promise, arrive });
  }
  return slots.get(key);
}

async function take(asset, index) {
  const text = await slot(asset, index).promise;
  slots.delete(`${asset}-${index}`); // megabytes
  return text;
}

/** A stream of the asset's bytes. */
function stream(asset) {
  let index = 0;
  ends[asset] = [];
  const next = async () => (index === parts[asset] ? null : take(asset, index++));
  return unpacked(next, (packed) => (ends[asset] = [...ends[asset], ...packed.slice(-8)].slice(-8)));
}

/** All bytes of the asset. */
async function bytes(asset) {
  return new Uint8Array(await new Response(stream(asset)).arrayBuffer());
}
