// The second worker: it unpacks whole assets beside the first, which has the wasm to read meanwhile.
// scripts.py puts unpack.js and arrivals.js before it, and hands the whole to runtime.js as a text.
//
// From the page: {type: "start", parts: {asset: count}, assets: [asset], port}
//                {type: "part", asset, index, text}
// By the port, to the first worker: {asset, whole, end} | {asset, error}

self.onmessage = async ({ data }) => {
  if (data.type === "part") return slot(data.asset, data.index).arrive(data.text);
  parts = data.parts;
  await Promise.all(data.assets.map((asset) => send(asset, data.port)));
  self.close();
};

async function send(asset, port) {
  try {
    const whole = await bytes(asset);
    port.postMessage({ asset, whole, end: ends[asset] }, [whole.buffer]);
  } catch (error) {
    port.postMessage({ asset, error: String(error) });
  }
}
