"""All that is changed of Pyodide's own text and wasm, made for one version of it.

Pyodide is built for packages that are loaded later: every function of C is exported, and the glue gives each
of them a name. A handbook loads none. So, in this order:

* an export stays only where the rest of the glue, or the loader, says its name (133 and a few of 8,560);
* modules of Python that no calculator imports go out of the wasm, with their libraries (LEFT_OUT);
* what nothing reaches any more goes out of it, too (binaryen);
* what the wasm does not import goes out of the glue, and every function of the glue that nobody calls then.

Each place is looked for by its words and has to be found as often as told; else the build stops.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from . import wasm
from .builtin import without_modules
from .errors import PackError
from .idle import without_idle

MADE_FOR = "314.0.7"
WASM, GLUE, LOADERS = "pyodide.asm.wasm", "pyodide.asm.mjs", ("pyodide.js", "pyodide.mjs")
# Asked for by a name that the glue puts together, or given one by its own statement.
ALWAYS = {"memory", "__indirect_function_table", "__main_argc_argv"}
# What restored.js calls by itself, without the glue.
CALLED = {
    "PyErr_Print", "PyObject_CallNoArgs", "PyObject_GetAttrString", "PyObject_Vectorcall",
    "PyUnicode_AsUTF8AndSize", "PyUnicode_FromStringAndSize", "Py_DecRef", "_PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET",
    "_PyRuntime", "__wasm_call_ctors", "_emscripten_stack_alloc", "_emscripten_stack_restore",
    "emscripten_stack_get_current", "free", "malloc",
}  # fmt: skip
TABLE = r"function assignWasmExports\(wasmExports\)\{([^{}]*)\}"
ASSIGNED = r'[\w$]+=Module\["[\w$]+"\]=(?:[^;]*=)?wasmExports\["([\w$.]+)"\][^;]*'
DECLARED = r"var ([\w$,]+),wasmTable,wasmMemory;"
IMPORTS = r"var wasmImports=\{([\w$,:]*)\};"
SIGNED = r'(?<![\w$.])[\w$]+\.sig="\w*";'
SHOWN = r'(?<![\w$.])Module\["([\w$]+)"\]=\1;'

# Modules for packing, other machines and programs, encodings of other alphabets, data bases, and those that test
# Python itself. A module of the standard library that wants one cannot be packed: the build says so.
LEFT_OUT = (
    "_asyncio", "_bz2", "_codecs_cn", "_codecs_hk", "_codecs_iso2022", "_codecs_jp", "_codecs_kr", "_codecs_tw",
    "_csv", "_ctypes", "_datetime", "_elementtree", "_hmac", "_lsprof", "_lzma", "_multibytecodec", "_pickle",
    "_posixsubprocess", "_queue", "_remote_debugging", "_socket", "_sqlite3", "_testbuffer", "_testcapi",
    "_testclinic", "_testclinic_limited", "_testinternalcapi", "_testlimitedcapi", "_xxtestfuzz", "_zoneinfo",
    "_zstd", "fcntl", "mmap", "pyexpat", "select", "termios", "xxsubtype", "zlib",
)  # fmt: skip
# What these bring along: the first function of each library, and the first after it.
LIBRARIES = (
    ("ffi_prep_cif", "hiwire_intern"),
    ("lzma_version_number", "sqlite3_status64"),
    ("sqlite3_status64", "FSE_versionNumber"),
    ("FSE_versionNumber", "emscripten_GetProcAddress"),
    ("BZ2_blockSort", "adler32_z"),
)

DeadCode = Callable[[bytes], bytes]


def cut(files: Mapping[str, bytes], dead_code: DeadCode) -> dict[str, bytes]:
    """Return Pyodide's files with glue and wasm cut down to what a handbook needs.

    Args:
        files: its files by name.
        dead_code: returns a wasm module without what its exports do not reach.
    """
    try:
        glue, module = _cut(files, "".join(files[name].decode() for name in LOADERS), dead_code)
    except KeyError as error:
        raise changed(f"the wasm exports no {error}") from error
    except ValueError as error:
        raise changed(str(error)) from error
    return {**files, GLUE: glue.encode(), WASM: module}


def _cut(files: Mapping[str, bytes], loaders: str, dead_code: DeadCode) -> tuple[str, bytes]:
    glue = without_signatures(files[GLUE].decode(), loaders)
    used = used_exports(glue, loaders, wasm.exports(files[WASM]))
    module = without_modules(files[WASM], LEFT_OUT, LIBRARIES, used)
    module = dead_code(wasm.with_exports(module, used))
    return without_idle(with_imports(with_exports(glue, used), imported(module))), module


# --- the glue ---------------------------------------------------------------------


def without_signatures(glue: str, loaders: str) -> str:
    """Return the glue without what only packages would read: signatures, and names that nobody asks for."""
    glue = _some(glue, SIGNED, lambda _: "")
    # Each exported function would get a place in the table of pointers, after all of them were read.
    glue = once(glue, "updateGOT(origExports);", "")
    asked = set(re.findall(r"""(?:\.|["'`{,])([\w$]+)""", re.sub(SHOWN, "", glue) + loaders))
    return _some(glue, SHOWN, lambda found: found[0] if found[1] in asked else "")


def used_exports(glue: str, loaders: str, exports: Mapping[str, object]) -> set[str]:
    """Return the exports that the glue, apart from its own table of them, or a loader names."""
    rest = _one(_one(glue, TABLE, ""), DECLARED, "") + loaders
    words = set(re.findall(r"[\w$]+", rest))
    called = set(re.findall(r'wasmExports(?:\["|\.)([\w$]+)', rest))
    return {name for name in exports if f"_{name}" in words or name in called} | ALWAYS | CALLED


def with_exports(glue: str, used: set[str]) -> str:
    """Return the glue whose table of exports, and variables for them, are those used alone."""
    table = re.findall(f"({ASSIGNED})", _found(glue, TABLE)[1])
    kept = [statement for statement, name in table if name in used]
    names = {name for statement in kept for name in re.findall(r"[\w$]+", statement)}
    glue = _one(glue, TABLE, "function assignWasmExports(wasmExports){" + ";".join(kept) + "}")
    variables = [name for name in _found(glue, DECLARED)[1].split(",") if name in names]
    return _one(glue, DECLARED, f"var {','.join(variables)},wasmTable,wasmMemory;")


def with_imports(glue: str, names: set[str]) -> str:
    """Return the glue that offers the wasm only what it imports."""
    offered = _found(glue, IMPORTS)[1].split(",")
    kept = [entry for entry in offered if entry.split(":")[0] in names]
    if missing := names - {entry.split(":")[0] for entry in kept}:
        raise changed(f"the glue offers no {min(missing)}")
    return _one(glue, IMPORTS, f"var wasmImports={{{','.join(kept)}}};")


def imported(module: bytes) -> set[str]:
    """Return the names that the wasm imports, all of them functions.

    Anything else would be a pointer for the table that `updateGOT` filled in.
    """
    found = wasm.imports(module)
    if others := [name for _, name, kind in found if kind != wasm.FUNCTION]:
        raise changed(f"the wasm still imports {others[0]}, which is no function")
    return {name for _, name, _ in found}


# --- the worker's text ----------------------------------------------------------------


def unasked(text: str) -> str:
    """Return one of Pyodide's scripts without its question whether this is a classic worker.

    It refuses one, the only kind that a page opened as a file may start. It asks by trying a call
    that throws, whose place in a megabyte of program the engine then works out: 80 ms.
    """
    asked = 'try{return globalThis.importScripts("data:text/javascript,"),!0}catch{return!1}'
    return once(text, asked, "return!1")


def glue_body(text: str) -> str:
    """Turn the module pyodide.asm.mjs into a function body; the brackets are as in `scripts.wrapped`."""
    made = "async function _createPyodideModule("
    body = once(text, made, "const _createPyodideModule = (async function (")
    body = once(body, "}export default _createPyodideModule;", "});return _createPyodideModule;")
    # Only ever used to find files beside it, and there are none.
    return unasked(body).replace("import.meta.url", '"file:///python/"')


def trampoline(glue: str) -> str:
    """Return the small wasm in hexadecimal with which Python calls C functions of any number of arguments."""
    return str(_found(glue, r"hexStringToUTF8Array\(\"((?:[0-9a-f]{2})+)\"\)")[1])


def loader_body(text: str) -> str:
    """Turn pyodide.js into a function body, without the map a debugger would fetch."""
    body = re.sub(r"^//# sourceMappingURL=.*$", "", unasked(text), flags=re.MULTILINE)
    return body + "\nreturn loadPyodide.loadPyodide;"


# --- finding a place ------------------------------------------------------------------


def changed(what: str) -> PackError:
    """Say that this is not the Pyodide that all this was made for."""
    return PackError(f"Pyodide has changed: {what}. tools/runtime/patches.py was made for version {MADE_FOR}.")


def once(text: str, old: str, new: str) -> str:
    """Replace the single `old`; another count means that the source has changed."""
    if text.count(old) != 1:
        raise changed(f"expected {old!r} once, found it {text.count(old)} times")
    return text.replace(old, new)


def _found(text: str, pattern: str) -> re.Match[str]:
    found = list(re.finditer(pattern, text))
    if len(found) != 1:
        raise changed(f"expected {pattern!r} once, found it {len(found)} times")
    return found[0]


def _one(text: str, pattern: str, new: str) -> str:
    found = _found(text, pattern)
    return text[: found.start()] + new + text[found.end() :]


def _some(text: str, pattern: str, new: Callable[[re.Match[str]], str]) -> str:
    made, count = re.subn(pattern, new, text)
    if not count:
        raise changed(f"expected {pattern!r}, found none")
    return made
