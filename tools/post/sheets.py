"""Puts our style sheets together into one: a page then names, and asks for, one file and not nine."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from . import pages

SHEET = "assets/css/all.css"
RUN = re.compile(r'(?:<link rel="stylesheet" href="[^"]*assets/css/[^"]*\.css">)+')
NAME = re.compile(r'href="[^"]*(assets/css/[^"]*)"')
# A remark on lines of its own: what else looks like one may stand in a text.
REMARK = re.compile(r"^[ \t]*/\*[^\"']*?\*/[ \t]*\n", re.MULTILINE)


def of(text: str) -> tuple[str, ...]:
    """The style sheets of ours that a page names one after the other, in their order."""
    run = RUN.search(text)
    return tuple(NAME.findall(run[0])) if run else ()


def install(site: Path, names: Sequence[str]) -> None:
    """Write the one sheet and take its parts out of the site."""
    parts = [REMARK.sub("", pages.read(site / name)) for name in names]
    for name in names:
        (site / name).unlink()
    pages.write(site / SHEET, "".join(parts))


def page(text: str, names: Sequence[str], root: str) -> str:
    """Return a page that names the one sheet in place of its parts; ``root`` is its way to the site's root."""
    if not names or of(text) != tuple(names):
        return text
    return RUN.sub(lambda _: f'<link rel="stylesheet" href="{root}{SHEET}">', text, count=1)
