"""Python for the browser, packed in a clone: Node and Pyodide found, the calculators compiled."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import calculators

from . import house, node
from .build import fingerprint
from .house import ROOT
from .progress import Trouble


def python(say: house.Say) -> house.Python:
    """What packs it; Node and Pyodide are looked for now."""
    found = node.find_node(say)
    pyodide = node.ensure_packages(found, say) / "pyodide"
    build_id = fingerprint([ROOT / "calculators", ROOT / "tools" / "runtime"])[:16]
    return house.Python(build_id, lambda folder: pack(folder, found, pyodide, build_id, say))


def pack(folder: Path, found: str, pyodide: Path, build_id: str, say: house.Say) -> dict[str, Any]:
    """Fill a folder; what it was made from, as ``pack.pack`` tells it. Trouble where that fails."""
    from tools.runtime.errors import PackError
    from tools.runtime.pack import pack as pack_runtime

    try:
        return pack_runtime(
            folder, node=found, pyodide_dir=pyodide, source_dir=ROOT,
            cache_dir=ROOT / ".cache" / "runtime", build_id=build_id, warm=warm(), say=say,
        )  # fmt: skip
    except PackError as error:
        raise Trouble(str(error)) from error


def warm() -> list[tuple[str, str]]:
    """What the packed Python has answered once before its memory is kept: what all calculators use is there then.

    One of them does: each more would make the handbook heavier.
    """
    found = calculators.get("clearance")
    request = {"units": found.example_units, "inputs": dict(found.example), "html": True}
    return [(found.name, json.dumps(request))]
