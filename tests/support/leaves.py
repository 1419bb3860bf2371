"""What stands on each sheet of a built booklet: read once, as reading one takes longer than all that is asked of it."""

from __future__ import annotations

import contextlib
import functools
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from pypdf import PdfReader
from pypdf.generic import ContentStream, NameObject

from tools.book import packs

MM = 72 / 25.4
TOP, LOW = 17 * MM, 15 * MM  # head and foot of a sheet stand beyond these
Style = tuple[float, tuple[float, ...]]


class Leaf(NamedTuple):
    """A sheet's text, its lowest ink, its bytes by size and color, and what each drawing on it is called."""

    text: str
    lowest: float
    letters: Counter[Style]
    drawings: list[str]


@functools.cache
def of(site: Path, pack: packs.Pack, form: str = packs.STUDY) -> tuple[Leaf, ...]:
    """The sheets of a built booklet."""
    return tuple(map(_read, PdfReader(site / "packs" / packs.file_of(pack.key, form)).pages))


@contextlib.contextmanager
def apart(page: Any) -> Iterator[None]:
    """Let whatever looks at a page find it taken apart, in place of its bytes; afterwards the page has neither."""
    page[NameObject("/Contents")] = ContentStream(page["/Contents"].get_object(), page.pdf, "bytes")
    yield
    del page["/Contents"]  # a hundred times what is read of it


def _read(page: Any) -> Leaf:
    letters: Counter[Style] = Counter()
    with apart(page):
        for size, color, count in set_texts(page):
            letters[size, color] += count
        return Leaf(page.extract_text(), lowest(page), letters, list(words_of_tags(page)))


def operations(page: Any) -> list[tuple[Any, bytes]]:
    """A page's own stream, taken apart."""
    held = page["/Contents"].get_object()
    taken = held if isinstance(held, ContentStream) else ContentStream(held, page.pdf, "bytes")
    return taken.operations


def words_of_tags(page: Any) -> Iterator[str]:
    """The alternative texts that stand in a page's own stream: one for each drawing on it."""
    for operands, operator in operations(page):
        if operator == b"BDC" and len(operands) > 1 and "/Alt" in operands[1]:
            yield str(operands[1]["/Alt"])


def lowest(page: Any) -> float:
    """The lowest ink between a sheet's head and foot, as a share of its height from the top."""
    high = float(page.mediabox.height)
    inked = [y for y in inks(page) if LOW <= y <= high - TOP]
    return 1 - min(inked, default=high) / high


def inks(page: Any) -> Iterator[float]:
    """How high each point of a line and each text of a page stands, in points."""
    at, kept = (0.0, 1.0, 0.0), []  # what x and y of an operand, and one, are worth in height
    for operands, operator in operations(page):
        if operator == b"q":
            kept.append(at)
        elif operator == b"Q":
            at = kept.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = map(float, operands)
            at = (at[0] * a + at[1] * b, at[0] * c + at[1] * d, at[0] * e + at[1] * f + at[2])
        elif operator in (b"m", b"l", b"c"):
            numbers = list(map(float, operands))
            yield from (at[0] * x + at[1] * y + at[2] for x, y in zip(numbers[::2], numbers[1::2], strict=True))
        elif operator in (b"TJ", b"Tj"):
            yield at[2]


def set_texts(page: Any) -> Iterator[tuple[float, tuple[float, ...], int]]:
    """Size, color and bytes of each text of a page that no drawing scales."""
    color: tuple[float, ...] = ()
    size, scaled, kept = 0.0, False, []
    for operands, operator in operations(page):
        if operator == b"q":
            kept.append(scaled)
        elif operator == b"Q":
            scaled = kept.pop()
        elif operator == b"cm":
            scaled = scaled or abs(float(operands[0])) != 1
        elif operator == b"scn":
            color = tuple(map(float, operands))
        elif operator == b"Tf":
            size = float(operands[1])
        elif operator in (b"TJ", b"Tj") and not scaled:
            parts = operands[0] if operator == b"TJ" else [operands[0]]
            yield size, color, sum(len(each) for each in parts if isinstance(each, (bytes, str)))
