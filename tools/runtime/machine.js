// The machine that a restored Python runs on: what its wasm asks of whoever runs it, as far as a calculation may ask.
// A clock, more memory, a few files to read, an error stream. All else is refused by name, and the page starts Python
// from nothing then, with the whole of Pyodide's glue (begun.js).
// How numbers lie in memory is WASI's (snapshot preview 1) and, for the files, Emscripten's of this Pyodide.

// Numbers of errors, WASI's.
const [NO_SUCH_CLOCK, NO_SUCH_DESCRIPTOR, NO_SUCH_FILE, NO_TERMINAL] = [28, 8, 44, 59];
const ERROR_STREAM = 2;
const REGULAR_FILE = 0o100444;
const ROOT = "/\0";
const CHUNK = 65536; // as much as the browser's chance gives at once, and what memory grows by

/** A file that Python wants to read before it has come. */
class NotYet extends Error {}

/** What this machine has not. */
class Refused extends Error {}

/** @param {WebAssembly.Module} module what asks
 * @param {{exports: any}} instance what was made of it, once it is
 * @param {Record<string, Uint8Array | null>} files by path; null for one that has not come yet
 * @param {(line: string) => void} say hears of the error stream
 * @returns {any} what the module imports */
function machine(module, instance, files, say) {
  const memory = () => new Uint8Array(instance.exports.memory.buffer);
  const numbers = () => new DataView(instance.exports.memory.buffer);
  /** @type {Map<number, {data: Uint8Array, at: number}>} */
  const opened = new Map();

  const pathAt = (at) => {
    const bytes = memory();
    return new TextDecoder().decode(bytes.slice(at, bytes.indexOf(0, at)));
  };

  function fileOf(path) {
    const file = Object.hasOwn(files, path) ? files[path] : undefined;
    if (file === null) throw new NotYet(path);
    return file;
  }

  /** The stretches of memory that a list of [start, length] names. */
  function* stretches(list, count) {
    for (let at = list; at < list + 8 * count; at += 8) {
      yield memory().subarray(numbers().getUint32(at, true), numbers().getUint32(at, true) + numbers().getUint32(at + 4, true));
    }
  }

  function status(path, at) {
    const file = fileOf(path);
    return file ? statusOf(file, at) : -NO_SUCH_FILE;
  }

  function statusOf(file, at) {
    memory().fill(0, at, at + 96);
    numbers().setUint32(at + 4, REGULAR_FILE, true);
    numbers().setUint32(at + 8, 1, true); // names
    numbers().setBigInt64(at + 24, BigInt(file.length), true);
    numbers().setInt32(at + 32, PAGE, true);
    numbers().setInt32(at + 36, Math.ceil(file.length / 512), true);
    return 0;
  }

  /** For a descriptor that stands for an open file: what `work` gives. */
  function on(descriptor, work, refused = NO_SUCH_DESCRIPTOR) {
    const file = opened.get(descriptor);
    return file ? work(file) : refused;
  }

  const offered = {
    clock_time_get(clock, _, at) {
      if (clock > 3) return NO_SUCH_CLOCK;
      numbers().setBigInt64(at, BigInt(Math.round((clock ? performance.now() : Date.now()) * 1e6)), true);
      return 0;
    },
    emscripten_get_now: () => performance.now(),
    emscripten_date_now: () => Date.now(),
    random_get(at, count) {
      for (let from = at; from < at + count; from += CHUNK) {
        // What lies in the wasm's memory must be filled from outside.
        memory().set(crypto.getRandomValues(new Uint8Array(Math.min(CHUNK, at + count - from))), from);
      }
      return 0;
    },
    emscripten_resize_heap(wanted) {
      const has = memory().length;
      try {
        instance.exports.memory.grow(Math.ceil((Math.max(wanted >>> 0, 1.2 * has) - has) / CHUNK));
        return 1;
      } catch {
        return 0;
      }
    },
    environ_sizes_get(count, size) {
      numbers().setUint32(count, 0, true);
      numbers().setUint32(size, 0, true);
      return 0;
    },
    environ_get: () => 0,
    // The two are asked by the wasm's own start; nothing of JavaScript is ever known to this Python.
    _emscripten_get_progname() {},
    __hiwire_deduplicate_new: () => new Map(),
    _Py_CheckEmscriptenSignals_Helper: () => 0,
    _PyEM_TrampolineCall_JS: (number, ...given) => instance.exports.__indirect_function_table.get(number)(...given),

    __syscall_openat(_, path) {
      const data = fileOf(pathAt(path));
      if (!data) return -NO_SUCH_FILE;
      let descriptor = ERROR_STREAM + 1;
      while (opened.has(descriptor)) descriptor++;
      opened.set(descriptor, { data, at: 0 });
      return descriptor;
    },
    __syscall_stat64: (path, at) => status(pathAt(path), at),
    __syscall_lstat64: (path, at) => status(pathAt(path), at),
    __syscall_newfstatat: (_, path, at) => status(pathAt(path), at),
    __syscall_fstat64: (descriptor, at) => on(descriptor, ({ data }) => statusOf(data, at), -NO_SUCH_DESCRIPTOR),
    __syscall_getcwd(at) {
      memory().set([...ROOT].map((sign) => sign.charCodeAt(0)), at);
      return ROOT.length;
    },
    __syscall_ioctl: () => -NO_TERMINAL,
    fd_close: (descriptor) => (opened.delete(descriptor) ? 0 : NO_SUCH_DESCRIPTOR),
    fd_seek: (descriptor, by, from, at) =>
      on(descriptor, (file) => {
        file.at = [0, file.at, file.data.length][from] + Number(by);
        numbers().setBigInt64(at, BigInt(file.at), true);
        return 0;
      }),
    fd_read: (descriptor, list, count, at) =>
      on(descriptor, (file) => {
        const begun = file.at;
        for (const place of stretches(list, count)) {
          const read = file.data.subarray(file.at, file.at + place.length);
          place.set(read);
          file.at += read.length;
        }
        numbers().setUint32(at, file.at - begun, true);
        return 0;
      }),
    fd_write(descriptor, list, count, at) {
      if (descriptor !== ERROR_STREAM) return NO_SUCH_DESCRIPTOR;
      let written = 0;
      for (const place of stretches(list, count)) {
        say(new TextDecoder().decode(place.slice()));
        written += place.length;
      }
      numbers().setUint32(at, written, true);
      return 0;
    },
  };

  const refuse = (name) => () => {
    throw new Refused(`Python asked the machine for ${name}, which it has not`);
  };
  const imports = {};
  for (const { module: from, name } of WebAssembly.Module.imports(module)) {
    (imports[from] ??= {})[name] = offered[name] ?? refuse(name);
  }
  return imports;
}
