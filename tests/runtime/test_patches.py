"""tools/runtime/patches.py: what it makes of Pyodide, and that another Pyodide stops the build."""

import re

import pytest

from tools.runtime import patches, wasm
from tools.runtime.errors import PackError
from tools.runtime.wasm import EXPORT, IMPORT, Section

# What the real files have at the places that are changed, and a little around them.
GLUE = (
    'async function _createPyodideModule(a={}){function unused(){}function _say(){}_say.sig="v";'
    'function _gl(){}_gl.sig="vi";Module["_say"]=_say;Module["FS"]=FS;'
    'try{return globalThis.importScripts("data:text/javascript,"),!0}catch{return!1}'
    "updateGOT(origExports);updateGOT(moduleExports);_kept();wasmExports.start();"
    "var _kept,_cut,_memory,__main_argc_argv,wasmTable,wasmMemory;function assignWasmExports(wasmExports){"
    '_kept=Module["_kept"]=wasmExports["kept"];_cut=Module["_cut"]=wasmExports["cut"].value>>>0;'
    'memory=Module["memory"]=wasmMemory=wasmExports["memory"]}var wasmImports={say:_say,gl:_gl};'
    "}export default _createPyodideModule;"
)


def module(*imports: bytes) -> bytes:
    """A wasm with the exports that GLUE speaks of, and these imports."""
    names = [b"kept", b"cut", b"memory", b"start"]
    exports = b"".join(bytes((len(name),)) + name + bytes((0, index)) for index, name in enumerate(names))
    return wasm.joined([
        Section(IMPORT, bytes((len(imports),)) + b"".join(imports)),
        Section(EXPORT, bytes((len(names),)) + exports),
    ])  # fmt: skip


SAY, GLOBAL = b"\x03env\x03say\x00\x00", b"\x08GOT.func\x03say\x03\x7f\x01"
FILES = {
    patches.GLUE: GLUE.encode(),
    patches.WASM: module(SAY),
    "pyodide.js": b"e.FS.writeFile();",
    "pyodide.mjs": b"",
    "package.json": b"{}",
}


@pytest.fixture(autouse=True)
def modules(monkeypatch):
    """The small wasm has no modules of Python; test_builtin.py takes them out of one that has."""
    monkeypatch.setattr(patches, "without_modules", lambda module, *_: module)


def cut(**changes: bytes) -> dict[str, bytes]:
    """The files cut down, nothing dead in the wasm."""
    names = {"glue": patches.GLUE, "module": patches.WASM}
    return patches.cut(FILES | {names[name]: data for name, data in changes.items()}, lambda module: module)


def test_what_nobody_names_is_cut():
    """Exports and imports, their variables and signatures, and what nobody calls after that."""
    made = cut()
    glue = made[patches.GLUE].decode()
    assert set(wasm.exports(made[patches.WASM])) == {"kept", "memory", "start"}
    assert "var wasmImports={say:_say};" in glue
    assert "var _kept,wasmTable,wasmMemory;" in glue.replace("_memory,", "")
    assert 'Module["FS"]=FS;' in glue
    for gone in ("_cut", "_gl", "unused", ".sig", 'Module["_say"]', "updateGOT(orig"):
        assert gone not in glue
    assert made["package.json"] == b"{}"


PLACES = [
    "updateGOT(origExports);",
    "function assignWasmExports",
    ",wasmTable,wasmMemory;",
    "var wasmImports=",
    '_say.sig="v";function _gl(){}_gl.sig="vi";',
    'Module["_say"]=_say;Module["FS"]=FS;',
]


@pytest.mark.parametrize("place", PLACES)
def test_a_place_that_is_not_found_stops_the_build(place):
    """With the version that the changes were made for."""
    assert place in GLUE
    with pytest.raises(PackError, match=rf"Pyodide has changed: .*version {re.escape(patches.MADE_FOR)}"):
        cut(glue=GLUE.replace(place, "").encode())


TWICE = [
    "updateGOT(origExports);",
    'function assignWasmExports(wasmExports){_a=Module["_a"]=wasmExports["a"]}',
    "var _kept,wasmTable,wasmMemory;",
    "var wasmImports={};",
]


@pytest.mark.parametrize("place", TWICE)
def test_a_place_that_is_found_twice_stops_the_build(place):
    """Nobody could say which one was meant."""
    with pytest.raises(PackError, match="found it 2 times"):
        cut(glue=(place + GLUE).encode())


@pytest.mark.parametrize("place", ["async function _createPyodideModule(", "}export default", "globalThis.importScripts"])
def test_the_worker_text_is_made_of_places_found_once(place):
    """The same of what the glue is turned into."""
    assert "try{" not in patches.glue_body(GLUE)
    with pytest.raises(PackError, match="found it 0 times"):
        patches.glue_body(GLUE.replace(place, ""))


def test_a_wasm_that_wants_more_stops_the_build():
    """An import that the glue does not offer, and a pointer that nobody would fill in."""
    with pytest.raises(PackError, match="offers no hum"):
        cut(module=module(SAY, b"\x03env\x03hum\x00\x00"))
    with pytest.raises(PackError, match="still imports say, which is no function"):
        cut(module=module(GLOBAL))
    with pytest.raises(PackError, match="no WebAssembly module"):
        cut(module=b"")


def test_a_module_that_is_not_there_stops_the_build(monkeypatch):
    """Its name is told, and the version."""
    monkeypatch.undo()
    with pytest.raises(PackError, match=r"no 'PyInit__asyncio'\..*version"):
        cut()


def test_it_is_made_for_the_version_that_is_locked(pyodide_dir):
    """So that the message names the right one."""
    assert f'"version": "{patches.MADE_FOR}"' in (pyodide_dir / "package.json").read_text(encoding="utf-8")
