// Python as it was when the handbook was built, its calculators imported: the memory that it had then is put back, so
// that nothing of it starts anew. snapshot.mjs took it, of the same wasm; snapshot.py wrote what stands before it:
//   size    bytes of memory
//   runs    [first page, how many][]: pages of 4 KiB that are not as the wasm's own data make them, which follow
//   entry   where calculators.begin_json lies; `steps` says whether it has steps
//   warm    the calculators that have answered in it: they need none of the files
//   files   {asset: path} of what it may read later
//   ends    {asset: the last eight bytes of it, packed}: what this memory belongs to
// None of Pyodide's own glue is here: Python's C API is called straight, and machine.js is all that it may ask for.

const PAGE = 4096;
// Of vectorcall (CPython's C API): the place before the arguments is free to be written over.
const BEFORE_IS_FREE = 0x80000000;

const NEVER = new Promise(() => {});

/** What Python raised and nobody in it caught. Its memory is sound all the same. */
class Raised extends Error {}

/** @returns {Promise<Started>} */
async function python() {
  const [module, snapshot] = await Promise.all([WebAssembly.compileStreaming(wasm()), whole("snapshot").then(readSnapshot)]);
  const { head } = snapshot;
  fits(head.ends, "wasm");
  const files = Object.fromEntries(Object.values(head.files).map((path) => [path, null]));
  const come = comeLater(head, files);
  let entry = awake(module, snapshot, files);
  return {
    begin: (name, json) => entry(name, json),
    come: (name) => (head.warm.includes(name) ? null : wanted(come)),
    again(error) {
      if (error instanceof Raised) return null;
      if (error instanceof Refused) {
        fail(error);
        return NEVER;
      }
      entry = awake(module, snapshot, files);
      return error instanceof NotYet ? wanted(come) : Promise.reject(error);
    },
    marks: head.marks,
    build: head.build,
    python: head.python,
    loaded: performance.now(),
  };
}

function readSnapshot(bytes) {
  const length = new DataView(bytes.buffer).getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(bytes.subarray(4, 4 + length)));
  return { head, pages: bytes.subarray(4 + length) };
}

/** Memory of another wasm would give wrong answers, or none; so would other files. */
function fits(wanted, asset) {
  if (String(wanted[asset]) !== String(ends[asset])) throw new Error(`the snapshot belongs to another ${asset}`);
}

/** The files that Python reads only for what it has not imported yet. Damaged ones end all: so is the rest, perhaps. */
async function comeLater({ files: paths, ends: wanted }, files) {
  try {
    for (const [asset, path] of Object.entries(paths)) {
      const data = await whole(asset);
      fits(wanted, asset);
      files[path] = data;
    }
  } catch (error) {
    fail(error);
    return NEVER;
  }
}

/** The page may have kept them back. */
function wanted(come) {
  self.postMessage({ type: "wants" });
  return come;
}

/** A new instance with that memory.
 * @returns {(name: string, json: string) => any} what begins a calculation */
function awake(module, { head, pages }, files) {
  const instance = { exports: null };
  instance.exports = new WebAssembly.Instance(module, machine(module, instance, files, (line) => complaints.push(line))).exports;
  const { exports } = instance;
  exports.__wasm_call_ctors();
  exports.memory.grow((head.size - exports.memory.buffer.byteLength) / 65536);
  putBack(exports, head.runs, pages);
  const begin = caller(exports, head.entry);
  return head.steps ? begin.steps : (name, json) => inOne(() => begin.once(name, json));
}

function putBack({ memory, _PyRuntime, _PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET, __indirect_function_table }, runs, pages) {
  const heap = new Uint8Array(memory.buffer);
  let from = 0;
  for (const [page, count] of runs) {
    heap.set(pages.subarray(from, (from += count * PAGE)), page * PAGE);
  }
  // The one word that is this browser's own.
  const words = new Int32Array(memory.buffer);
  words[(_PyRuntime.value + words[_PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET.value >> 2]) >> 2] = trampoline(__indirect_function_table, memory);
}

/** Where in the table the call stands that a browser may lack, or 0: then every such call goes through JavaScript. */
function trampoline(table, memory) {
  // As Pyodide does: on these it does not hold.
  if (/iPad|iPhone|iPod/.test(navigator.userAgent) || (navigator.platform === "MacIntel" && navigator.maxTouchPoints > 1)) return 0;
  try {
    const bytes = Uint8Array.from(TRAMPOLINE.match(/../g), (pair) => parseInt(pair, 16));
    const imports = { env: { __indirect_function_table: table, memory } };
    const { exports } = new WebAssembly.Instance(new WebAssembly.Module(bytes), imports);
    const place = table.grow(1);
    table.set(place, exports.trampoline_call);
    return place;
  } catch {
    return 0;
  }
}

/** Python's C API, as far as a call needs it that takes two texts.
 * @param {number} entry where the function lies that is called */
function caller(exports, entry) {
  const memory = () => new Uint8Array(exports.memory.buffer);
  const numbers = () => new DataView(exports.memory.buffer);
  const [advance, stop] = ["advance\0", "stop\0"].map(put);

  /** Bytes that stay: their place. */
  function put(text) {
    const bytes = new TextEncoder().encode(text);
    const place = exports.malloc(bytes.length || 1);
    memory().set(bytes, place);
    return [place, bytes.length];
  }

  /** Room that is given back once `work` is done with it. */
  function withRoom(size, work) {
    const before = exports.emscripten_stack_get_current();
    try {
      return work(exports._emscripten_stack_alloc(size));
    } finally {
      exports._emscripten_stack_restore(before);
    }
  }

  /** @returns {number} where the object lies */
  function got(place) {
    if (!place) throw raised();
    return place;
  }

  /** Python writes it to its error stream. */
  function raised() {
    const before = complaints.length;
    exports.PyErr_Print();
    return new Raised(complaints.splice(before).join(""));
  }

  function text(string) {
    const [place, length] = put(string);
    const made = exports.PyUnicode_FromStringAndSize(place, length);
    exports.free(place);
    return got(made);
  }

  /** The text of an object that is needed no longer. */
  function taken(object) {
    return withRoom(16, (room) => {
      const place = got(exports.PyUnicode_AsUTF8AndSize(object, room));
      const bytes = memory().slice(place, place + numbers().getUint32(room, true));
      exports.Py_DecRef(object);
      return new TextDecoder().decode(bytes);
    });
  }

  function called(...texts) {
    const given = texts.map(text);
    return withRoom(16, (room) => {
      given.forEach((object, index) => numbers().setUint32(room + 4 + 4 * index, object, true));
      const made = exports.PyObject_Vectorcall(entry, room + 4, given.length + BEFORE_IS_FREE, 0);
      given.forEach((object) => exports.Py_DecRef(object));
      return got(made);
    });
  }

  function steps(name, json) {
    const calculation = called(name, json);
    const methods = [advance, stop].map(([word]) => got(exports.PyObject_GetAttrString(calculation, word)));
    const [advancing, stopping] = methods;
    return {
      advance: () => taken(got(exports.PyObject_CallNoArgs(advancing))),
      stop: () => exports.Py_DecRef(got(exports.PyObject_CallNoArgs(stopping))),
      destroy: () => [...methods, calculation].forEach((object) => exports.Py_DecRef(object)),
    };
  }

  return { steps, once: (name, json) => taken(called(name, json)) };
}
