// Python as it was when the handbook was built, its calculators imported: the memory that it had then is put back, so
// that nothing of it starts anew. snapshot.mjs took it, of the same wasm; snapshot.py wrote what stands before it:
//   size    bytes of memory
//   runs    [first page, how many][]: pages of 4 KiB that are not as the wasm's own data make them, which follow
//   entry   where calculators.begin_json lies; `steps` says whether it has steps
//   js      what Python knew of JavaScript, by its number: all blank here, as nobody asks for it
//   files   {asset: path} of what it may read later
//   ends    {asset: the last eight bytes of it, packed}: what this memory belongs to

const PAGE = 4096;

/** @returns {Promise<Started>} */
async function restored() {
  const [module, exports, { head, pages }] = await instantiated();
  await putFiles(module.FS, head.files);
  fits(head.ends);
  putBack(exports, head.runs, pages);
  wakeUp(module, head.js);
  const entry = module.pyproxy_new(head.entry);
  const begin = head.steps ? entry : (name, json) => inOne(() => entry(name, json));
  return { begin, marks: head.marks, build: head.build, python: head.python, loaded: performance.now() };
}

/** The wasm with as much memory as the snapshot had, and the glue around it; nothing of Python has run. */
async function instantiated() {
  const error = Symbol("error");
  let exports, snapshot;
  const settings = {
    noInitialRun: true,
    noImageDecoding: true,
    noAudioDecoding: true,
    preRun: [],
    print() {},
    printErr: (line) => complaints.push(line),
    API: { config: { jsglobals: {}, packages: [] }, runtimeEnv: {} },
    instantiateWasm(imports, received) {
      Object.assign(imports.env, { Jsv_GetError_import: () => error, JsvError_Check: (value) => value === error });
      Promise.all([WebAssembly.instantiateStreaming(wasm(), imports), whole("snapshot")])
        .then(([{ instance, module }, bytes]) => {
          exports = instance.exports;
          snapshot = readSnapshot(bytes);
          exports.memory.grow((snapshot.head.size - exports.memory.buffer.byteLength) / 65536);
          received(instance, module);
        })
        .catch(fail);
      return {};
    },
  };
  const module = await pyodideGlue(() => {
    throw new Error("Python asked for a file, which is not packed");
  })(settings);
  return [module, exports, snapshot];
}

function readSnapshot(bytes) {
  const length = new DataView(bytes.buffer).getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(bytes.subarray(4, 4 + length)));
  return { head, pages: bytes.subarray(4 + length) };
}

/** Memory of another wasm would give wrong answers, or none. */
function fits(wanted) {
  const strange = Object.keys(wanted).find((asset) => String(wanted[asset]) !== String(ends[asset]));
  if (strange) throw new Error(`the snapshot belongs to another ${strange}`);
}

/** What Python imports later it reads from there. */
async function putFiles(FS, files) {
  for (const [asset, path] of Object.entries(files)) {
    FS.mkdirTree(path.replace(/\/[^/]*$/, ""));
    FS.writeFile(path, await whole(asset), { canOwn: true });
  }
}

/** The one word that is this browser's own: where the call that a browser may lack stands in the table, or 0. */
function putBack({ memory, _PyRuntime, _PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET }, runs, pages) {
  const heap = new Uint8Array(memory.buffer);
  const words = new Int32Array(memory.buffer);
  const own = (_PyRuntime.value + words[_PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET.value >> 2]) >> 2;
  const trampoline = words[own];
  let from = 0;
  for (const [page, count] of runs) {
    heap.set(pages.subarray(from, (from += count * PAGE)), page * PAGE);
  }
  words[own] = trampoline;
}

/** What Pyodide does after its own snapshots, without all that only a caller of Python by name would need. */
function wakeUp(module, js) {
  module._jslib_init();
  module._init_pyodide_proxy();
  module.runtimeKeepalivePush();
  js.forEach((kind, index) => {
    if (module.__hiwire_set(index, kind === null ? null : {}) < 0) throw new Error("Python cannot be told of JavaScript");
  });
}
