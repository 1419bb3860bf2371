"""What a text of the operator's may hold: letters that can be seen, on one line.

Cleaned without a word, because nobody can see it and a copy from a page often brings it along: every
blank, tab, line break and line or paragraph separator (U+2028, U+2029) becomes one blank; soft hyphens,
zero-width spaces, word joiners and marks of byte order go; so do zero-width joiners and tags wherever no
script or picture needs them (they stay between two letters that are not plain ones, as in many tongues, and
within a flag). Marks of direction (U+200E, U+200F, U+061C), which names in such tongues need, stay.

Refused, because the text would read otherwise than it is written, or breaks a file: control characters,
halves of letters (lone surrogates), code points that are no letters, and overrides, embeddings and isolates
of direction. A text too long is refused where its field stands (``tables.py``, ``company.py``, ``packs.py``).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import Any

_GONE = re.compile("[\u00ad\u180e\u200b\u2060-\u2064\u206a-\u206f\ufeff\ufff9-\ufffb]")
_JOINERS = re.compile("(?<![^\x00-\x7f\\s])[\u200c\u200d]+|[\u200c\u200d]+(?![^\x00-\x7f\\s\u200c\u200d])")
_TAGS = re.compile("(?<![\U0001f3f4\U000e0020-\U000e007f])[\U000e0000-\U000e007f]+")
_TURNS = re.compile("[\u202a-\u202e\u2066-\u2069]")
_NONE = re.compile("[\ufdd0-\ufdef\ufffe\uffff]")


def cleaned(text: str) -> str:
    """The text on one line, without what cannot be seen and means nothing there."""
    if not text.isascii():
        text = _TAGS.sub("", _JOINERS.sub("", _GONE.sub("", text)))
    return " ".join(text.split())


def complaint(text: str) -> tuple[str, str] | None:
    """What a cleaned text holds that it may not, and how to mend it; None for a good one."""
    for sign in text:
        kind = unicodedata.category(sign)
        name = f"U+{ord(sign):04X}"
        if kind == "Cc":
            return (f"The text holds a control character ({name}).", "Type it again, and copy it from nowhere.")
        if kind == "Cs":
            return (f"The text holds half a letter ({name}).", "Type it again, and save the file as UTF-8.")
        if _TURNS.match(sign):
            return (f"The text holds a sign that turns the direction of letters ({name}).",
                    "Type it again without: it would read otherwise than it is written.")  # fmt: skip
        if _NONE.match(sign) or ord(sign) & 0xFFFE == 0xFFFE:
            return (f"The text holds a sign that is no letter ({name}).", "Type it again, and save the file as UTF-8.")
    return None


def everywhere(value: Any) -> Any:
    """The same value with every text in it cleaned, also within lists and tables; keys stay."""
    if isinstance(value, str):
        return cleaned(value)
    if isinstance(value, dict):
        return {key: everywhere(each) for key, each in value.items()}
    return [everywhere(each) for each in value] if isinstance(value, list) else value


def complaints(value: Any, place: str = "") -> Iterator[tuple[str, str, str]]:
    """Each complaint about a text of a file of settings, with the entry it stands in."""
    if isinstance(value, str):
        found = complaint(value)
        if found:
            yield (place, *found)
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from ((place, what, mend) for _, what, mend in complaints(str(key)))
            yield from complaints(each, place or str(key))
    elif isinstance(value, list):
        for each in value:
            yield from complaints(each, place)
