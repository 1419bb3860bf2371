"""Keeps the memory of a Python that has the calculators imported, so that a page need not start one.

What a page does with it stands in restored.js. The pages of memory that the wasm's own data make, it has already;
kept are those that differ from them, or from what the start of the wasm makes of them before Python runs.
"""

from __future__ import annotations

import json
import struct
import tempfile
import zlib
from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

from . import wasm
from .patches import WASM
from .programs import run_node

HERE = Path(__file__).parent
PAGE = 4096  # bytes, as in restored.js
Warm = Sequence[tuple[str, str]]


def snapshot(node: str, pyodide_dir: Path, library: bytes, calculators: bytes, warm: Warm, build_id: str) -> bytes:
    """Return the asset that restored.js puts back: the length of its head, the head as JSON, pages of memory.

    Args:
        node: the Node program.
        pyodide_dir: Pyodide's files, cut down as the page has them.
        library: the standard library as a zip, as the page has it.
        calculators: our package, likewise.
        warm: a calculator's name and a request as JSON each, answered before the memory is kept.
        build_id: names this build.
    """
    module = (pyodide_dir / WASM).read_bytes()
    with tempfile.TemporaryDirectory() as name:
        told, before, after = taken(node, pyodide_dir, library, calculators, warm, Path(name))
    runs = differing(after, wasm.memory_of(module), before)
    head = {
        **told, "build": build_id, "runs": runs,
        "ends": {"wasm": end(module), "library": end(library), "calculators": end(calculators)},
    }  # fmt: skip
    text = json.dumps(head, sort_keys=True).encode()
    kept = (after[PAGE * first : PAGE * (first + count)] for first, count in runs)
    return struct.pack("<I", len(text)) + text + b"".join(kept)


def taken(
    node: str, pyodide_dir: Path, library: bytes, calculators: bytes, warm: Warm, work: Path
) -> tuple[dict[str, object], bytes, bytes]:
    """Return what snapshot.mjs tells, and the memory before and after."""
    (work / "library.zip").write_bytes(library)
    (work / "calculators.zip").write_bytes(calculators)
    paths = (HERE / "snapshot.mjs", pyodide_dir, work / "library.zip", work / "calculators.zip", HERE / "warm.py")
    printed = run_node(node, [*map(str, paths), json.dumps(warm), str(work)], "keeping Python's memory failed")
    told: dict[str, object] = json.loads(printed.splitlines()[-1])
    return told, (work / "before.bin").read_bytes(), (work / "after.bin").read_bytes()


def differing(after: bytes, *others: bytes) -> list[list[int]]:
    """Return [first page, how many] for each run of pages that are not the same in all; the others may be shorter.

    >>> differing(b"Tern".ljust(3 * PAGE), bytes(3 * PAGE))
    [[0, 3]]
    """
    same = [other.ljust(len(after), b"\0") for other in others]
    places = (slice(at, at + PAGE) for at in range(0, len(after), PAGE))
    changed = [number for number, at in enumerate(places) if any(after[at] != other[at] for other in same)]
    runs = groupby(enumerate(changed), key=lambda pair: pair[1] - pair[0])
    return [[found[0][1], len(found)] for found in (list(pairs) for _, pairs in runs)]


def end(data: bytes) -> list[int]:
    """Return the last eight bytes of what gzip makes of some bytes: their checksum and length (RFC 1952, 2.3.1)."""
    return list(struct.pack("<II", zlib.crc32(data), len(data) & 0xFFFFFFFF))
