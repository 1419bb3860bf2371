"""Writes the scripts that the page loads: assets as text, and the worker's program."""

from __future__ import annotations

import gzip
import json
import struct
from collections.abc import Mapping
from pathlib import Path

from .errors import PackError
from .patches import GLUE, glue_body, loader_body, trampoline

HERE = Path(__file__).parent
PART_SIZE = 960_000  # bytes that a part carries: reading a longer script holds up the page
# What begins a file of sixteen bits a character; it comes before all that a server says of its letters.
MARK_OF_ORDER = b"\xff\xfe"
# Stands before what a string may not hold, with its highest bit turned over.
ESCAPE, TURNED = 0xE000, 0x8000
NOT_HELD = (0, *b'\n\r"\\', ESCAPE, 0x2028, 0x2029, 0xFEFF, 0xFFFE, 0xFFFF, *range(0xD800, 0xE000))
SYMBOLS = list(map(chr, range(0x10000)))
for _code in NOT_HELD:
    SYMBOLS[_code] = chr(ESCAPE) + chr(_code ^ TURNED)


def program(pyodide_dir: Path) -> str:
    """Return the worker's whole source that starts Python from nothing: Pyodide's two scripts, then ours."""
    glue = (pyodide_dir / GLUE).read_text(encoding="utf-8")
    loader = (pyodide_dir / "pyodide.js").read_text(encoding="utf-8")
    lock = json.loads((pyodide_dir / "pyodide-lock.json").read_text(encoding="utf-8"))
    parts = (
        wrapped("pyodideGlue", glue_body(glue)),
        wrapped("pyodideLoader", loader_body(loader)),
        "const PYODIDE_LOCK = " + json.dumps({"info": lock["info"], "packages": {}}) + ";",
        *map(own_script, ("unpack.js", "arrivals.js", "begun.js", "worker.js")),
    )
    return "\n".join(parts)


def restored(pyodide_dir: Path) -> str:
    """Return the worker's whole source that puts Python's memory back."""
    parts = (
        f'const TRAMPOLINE = "{trampoline((pyodide_dir / GLUE).read_text(encoding="utf-8"))}";',
        *map(own_script, ("unpack.js", "arrivals.js", "machine.js", "restored.js", "worker.js")),
    )
    return "\n".join(parts)


def page_script(packed: Mapping[str, object], restored: str) -> str:
    """Return runtime.js with what it has to know, with unpack.js and load.js, and with the texts of its workers."""
    facts = f"const PACKED = {json.dumps(packed)};"
    page = replace_once(own_script("runtime.js"), "const PACKED = {};", facts)
    aside = "\n".join(map(own_script, ("unpack.js", "arrivals.js", "aside.js")))
    page = replace_once(page, 'const ASIDE = "";', f"const ASIDE = {json.dumps(aside)};")
    page = replace_once(page, 'const RESTORED = "";', f"const RESTORED = {json.dumps(restored)};")
    for name in ("unpack.js", "load.js"):
        page = replace_once(page, f"// {name}", own_script(name))
    return page


def own_script(name: str) -> str:
    """Return the text of a script beside this file."""
    return (HERE / name).read_text(encoding="utf-8")


def wrapped(name: str, body: str) -> str:
    """Return a function whose parameter hides the global fetch from `body`.

    The brackets around it tell the engine that it is about to be called: without them a megabyte
    is read twice, which takes a tenth of the time to the first result.
    """
    return f"const {name} = ((fetch) => {{\n{body}\n}});"


def replace_once(text: str, old: str, new: str) -> str:
    """Replace the single `old`; another count means that a script of ours has changed."""
    if text.count(old) != 1:
        raise PackError(f"expected {old!r} once, found it {text.count(old)} times")
    return text.replace(old, new)


def write_asset(folder: Path, asset: str, data: bytes) -> None:
    """Write one asset as scripts that carry at most PART_SIZE bytes each: gzip, as :func:`sixteen_bits`."""
    packed = gzip.compress(data, 9, mtime=0)
    for index, start in enumerate(range(0, len(packed), PART_SIZE)):
        name = f"python-{asset}-{index}"
        part = sixteen_bits(packed[start : start + PART_SIZE])
        script = f'(self.HandbookAssets ??= {{}})["{name}"] = "{part}";\n'
        (folder / f"{name}.js").write_bytes(MARK_OF_ORDER + script.encode("utf-16-le"))


def sixteen_bits(data: bytes) -> str:
    """Return bytes as text: how many bytes of the last character are blank, then two bytes a character.

    >>> sixteen_bits(b"Tern!")
    '1敔湲!'
    """
    blank = len(data) % 2
    codes = struct.unpack(f"<{(len(data) + blank) // 2}H", data + bytes(blank))
    return f"{blank}{''.join(map(SYMBOLS.__getitem__, codes))}"
