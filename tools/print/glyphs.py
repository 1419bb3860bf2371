"""Letters that no typeface of ours has: on paper a box stands for each, so that a name in any script can be built."""

from __future__ import annotations

import functools
import importlib.resources
import json
import re
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal

import typst

# Checked by the typesetter itself: title, language, headings in order, alternative texts, a sign for each letter.
STANDARD: Literal["ua-1"] = "ua-1"
BOX = "□"
_PROBE = '#set document(title: "x")\n#set text(font: "Source Sans Pro", lang: "en")\n#json("letters.json").join(" ")\n'
_LOST = re.compile(r'the text `"(.*?)"` could not be displayed')


def typeset(folder: Path, layout: str) -> bytes:
    """Set a layout of a folder as a tagged PDF; raises ``typst.TypstError``."""
    made: bytes = typst.compile(
        folder / layout, root=folder, font_paths=[fonts()], ignore_system_fonts=True, format="pdf",
        pdf_standards=[STANDARD],
    )  # fmt: skip
    return made


def fonts() -> Path:
    """The folder of the booklets' typeface."""
    return Path(str(importlib.resources.files("font_source_sans_pro"))) / "files"


def printable(told: Mapping[str, Any]) -> dict[str, Any]:
    """The same texts with a box for each letter that cannot be printed."""
    boxes = dict.fromkeys(map(ord, lost(told)), BOX)
    printed: dict[str, Any] = json.loads(json.dumps(told, ensure_ascii=False).translate(boxes))
    return printed


def lost(told: Any) -> frozenset[str]:
    """The letters of all texts in a value that cannot be printed."""
    return _lost("".join(sorted({sign for sign in json.dumps(told, ensure_ascii=False) if not sign.isascii()})))


@functools.lru_cache(maxsize=64)
def _lost(letters: str) -> frozenset[str]:
    found: set[str] = set()
    with tempfile.TemporaryDirectory() as work:
        folder = Path(work)
        (folder / "probe.typ").write_text(_PROBE, encoding="utf-8")
        while left := [sign for sign in letters if sign not in found]:
            (folder / "letters.json").write_text(json.dumps(left), encoding="utf-8")
            try:
                typeset(folder, "probe.typ")
            except typst.TypstError as error:  # it names one at a time
                named = _LOST.search(str(error))
                if named is None or not set(named[1]) & set(left):
                    raise
                found |= set(named[1]) & set(left)
            else:
                break
    return frozenset(found)
