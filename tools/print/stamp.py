"""The state of the data in the foot of each sheet, put into a booklet that is set already.

It changes with every cell of every table, and what else a booklet says hardly ever does: to set all booklets anew for
it costs as much as all else of a build. So they are set with a blank mark, whose letters stand in a piece of their own
(house.typ, drills.typ: without kerning), and the letters are changed in the finished file.
"""

from __future__ import annotations

import io
import re
from collections.abc import Mapping

import pikepdf

BLANK = "0" * 8
LAYOUTS = ("house.typ", "drills.typ")  # those that print it
_FOOT = re.compile(rb"/Subtype/Footer/Type/Pagination>>BDC\n.*?\nEMC", re.DOTALL)
_PIECE = re.compile(rb"(/f\d+)( [^\n]*? Tm\[)\((.*)\)(\]TJ\n)")
_CODE = re.compile(rb"<([0-9A-F]{4})> <([0-9A-F]{4})>")
# As a text of PDF has bytes: a letter, or a sign behind a stroke.
_BYTE = re.compile(rb"\\([0-7]{3}|[nrtbf()\\])|([^\\])", re.DOTALL)
_SIGNS = {b"n": 10, b"r": 13, b"t": 9, b"b": 8, b"f": 12}


def stamped(booklet: bytes, mark: str) -> bytes | None:
    """The booklet with ``mark``, as long as the blank one, in each foot; None where its typeface lacks one of its letters.

    Raises ValueError where a sheet has no blank mark.
    """
    made, known = io.BytesIO(), dict[tuple[int, int], dict[str, bytes]]()
    with pikepdf.open(io.BytesIO(booklet)) as opened:
        for page in opened.pages:
            fonts = {name.encode(): font for name, font in page.Resources.Font.items()}
            for font in fonts.values():  # one stands on many pages
                known.setdefault(font.objgen, {}) or known[font.objgen].update(_codes(font))
            drawn = _marked(page.Contents.read_bytes(), {name: known[font.objgen] for name, font in fonts.items()}, mark)
            if drawn is None:
                return None
            page.Contents.write(drawn)
        opened.save(made, object_stream_mode=pikepdf.ObjectStreamMode.generate, compress_streams=True, deterministic_id=True)
    return made.getvalue()


def _marked(drawn: bytes, codes: Mapping[bytes, Mapping[str, bytes]], mark: str) -> bytes | None:
    for foot in _FOOT.finditer(drawn):
        for piece in _PIECE.finditer(drawn, *foot.span()):
            letters = codes[piece[1]]
            blank = b"".join(letters.get(sign, b"?") for sign in BLANK)
            if _bytes(piece[3]) == blank:
                if not letters.keys() >= set(mark):
                    return None
                hexed = b"".join(letters[sign] for sign in mark).hex().encode()
                return drawn[: piece.start()] + piece[1] + piece[2] + b"<" + hexed + b">" + piece[4] + drawn[piece.end() :]
    raise ValueError("a sheet has no blank mark in its foot")


def _codes(font: pikepdf.Object) -> dict[str, bytes]:
    """What a typeface of the file writes for each letter that it has."""
    return {chr(int(letter, 16)): bytes.fromhex(code.decode()) for code, letter in _CODE.findall(font.ToUnicode.read_bytes())}


def _bytes(text: bytes) -> bytes:
    return bytes(int(told, 8) if told[:1].isdigit() else _SIGNS.get(told, told[0]) if told else plain[0]
                 for told, plain in _BYTE.findall(text))  # fmt: skip
