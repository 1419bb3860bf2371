"""Writes the scripts that the page loads: assets as text, and the worker's program."""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Mapping
from pathlib import Path

from .errors import PackError

HERE = Path(__file__).parent
PART_SIZE = 1_000_000  # characters; a multiple of 8, so that each part decodes alone
# Seven bits a character is all that plain text carries in one byte. Those that a string may not
# hold (and NUL) go with the eighth bit set, which takes two bytes; a reader drops that bit.
SYMBOLS = [chr(code + 128 if chr(code) in '\0\n\r"\\' else code) for code in range(128)]


def program(pyodide_dir: Path) -> str:
    """Return the worker's whole source: Pyodide's two scripts, then worker.js."""
    glue = (pyodide_dir / "pyodide.asm.mjs").read_text(encoding="utf-8")
    loader = (pyodide_dir / "pyodide.js").read_text(encoding="utf-8")
    lock = json.loads((pyodide_dir / "pyodide-lock.json").read_text(encoding="utf-8"))
    parts = (
        wrapped("pyodideGlue", glue_body(glue)),
        wrapped("pyodideLoader", loader_body(loader)),
        "const PYODIDE_LOCK = " + json.dumps({"info": lock["info"], "packages": {}}) + ";",
        own_script("unpack.js"),
        own_script("worker.js"),
    )
    return "\n".join(parts)


def page_script(packed: Mapping[str, object]) -> str:
    """Return runtime.js with what it has to know, and with unpack.js."""
    facts = f"const PACKED = {json.dumps(packed)};"
    page = replace_once(own_script("runtime.js"), "const PACKED = {};", facts)
    return replace_once(page, "// unpack.js", own_script("unpack.js"))


def own_script(name: str) -> str:
    """Return the text of a script beside this file."""
    return (HERE / name).read_text(encoding="utf-8")


def wrapped(name: str, body: str) -> str:
    """Return a function whose parameter hides the global fetch from `body`.

    The brackets around it tell the engine that it is about to be called: without them a megabyte
    is read twice, which takes a tenth of the time to the first result.
    """
    return f"const {name} = ((fetch) => {{\n{body}\n}});"


def unasked(text: str) -> str:
    """Return one of Pyodide's scripts without its question whether this is a classic worker.

    It refuses one, the only kind that a page opened as a file may start. It asks by trying a call
    that throws, whose place in a megabyte of program the engine then works out: 80 ms.
    """
    asked = 'try{return globalThis.importScripts("data:text/javascript,"),!0}catch{return!1}'
    return replace_once(text, asked, "return!1")


def glue_body(text: str) -> str:
    """Turn the module pyodide.asm.mjs into a function body; see `wrapped` for the brackets."""
    made = "async function _createPyodideModule("
    body = replace_once(text, made, "const _createPyodideModule = (async function (")
    body = replace_once(
        body, "}export default _createPyodideModule;", "});return _createPyodideModule;"
    )
    # Only ever used to find files beside it, and there are none.
    return unasked(body).replace("import.meta.url", '"file:///python/"')


def loader_body(text: str) -> str:
    """Turn pyodide.js into a function body, without the map a debugger would fetch."""
    body = re.sub(r"^//# sourceMappingURL=.*$", "", unasked(text), flags=re.MULTILINE)
    return body + "\nreturn loadPyodide.loadPyodide;"


def replace_once(text: str, old: str, new: str) -> str:
    """Replace the single `old`; another count means that the source has changed."""
    if text.count(old) != 1:
        raise PackError(f"expected {old!r} once, found it {text.count(old)} times")
    return text.replace(old, new)


def write_asset(folder: Path, asset: str, data: bytes) -> None:
    """Write one asset as scripts of at most PART_SIZE characters: gzip, seven bits in each."""
    text = seven_bits(gzip.compress(data, 9, mtime=0))
    for index, start in enumerate(range(0, len(text), PART_SIZE)):
        name = f"python-{asset}-{index}"
        part = text[start : start + PART_SIZE]
        script = f'(self.HandbookAssets ??= {{}})["{name}"] = "{part}";\n'
        (folder / f"{name}.js").write_text(script, encoding="utf-8", newline="")


def seven_bits(data: bytes) -> str:
    """Return bytes as text, eight characters for seven bytes, the last group cut short.

    >>> seven_bits(b"Tern") == "".join(map(SYMBOLS.__getitem__, [42, 25, 46, 39, 64]))
    True
    """
    groups = (data[start : start + 7] for start in range(0, len(data), 7))
    return "".join(map(_eight_characters, groups))


def _eight_characters(group: bytes) -> str:
    bits = int.from_bytes(group.ljust(7, b"\0"), "big")
    count = -(-8 * len(group) // 7)
    return "".join([SYMBOLS[bits >> shift & 127] for shift in range(49, 49 - 7 * count, -7)])
