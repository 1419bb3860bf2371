"""Keys of rows: each becomes a page and a file, on every system, and never one of our own."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator

# Names that Windows keeps for devices, whatever follows a point.
DEVICES = ("con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in range(10)))
# Files that a server or the site's maker looks for by name, in any folder. That no two pages lie in one file is
# seen to by `unfit`, with every path of the site before it.
OURS = ("index", "readme", "404", "search", "sitemap", "robots", "assets")
LONGEST = 60
_SHAPE = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*", re.ASCII)
# What Windows refuses in a file's name, and a point or blank that it drops from the end.
_UNFIT = re.compile(r'[<>:"|?*\\\x00-\x1f\x7f]|[. ]$|^ ')
_A_DAY = re.compile(r"[0-9]{1,4}-[0-9]{1,2}(?:-[0-9]{1,4})?", re.ASCII)
# Letters whose plain form is not the letter without its mark.
_SPELT = {"ß": "ss", "æ": "ae", "ø": "o", "œ": "oe", "ł": "l", "đ": "d", "ð": "d", "þ": "th"}


def complaint(key: str) -> tuple[str, str] | None:
    """What is wrong with a key and how to mend it; None for a good one."""
    if len(key) > LONGEST:
        return (f"The key “{key[:20]}…” has {len(key)} characters.", f"Shorten it to {LONGEST} at most.")
    if not _SHAPE.fullmatch(key):
        return (f"The key “{key}” cannot be used in a link.", f"Use small letters from a to z, figures and "
                f"dashes between them{_such_as(key)}.")  # fmt: skip
    if key in DEVICES:
        return (f"Windows keeps “{key}” for itself: there can be no such file.", f"Add a word, such as {key}-one.")
    if key in OURS:
        return (f"“{key}” is the name of a page of the handbook's own.", f"Add a word, such as {key}-one.")
    if _A_DAY.fullmatch(key):
        return (f"A spreadsheet takes the key “{key}” for a day.", f"Put a letter before it, such as no-{key}.")
    return None


def _such_as(key: str) -> str:
    """A key of that shape as near as it gets, or nothing."""
    spelt = "".join(_SPELT.get(letter, letter) for letter in key.lower())
    bare = unicodedata.normalize("NFKD", spelt).encode("ascii", "ignore").decode()
    near = re.sub(r"[^a-z0-9]+", "-", bare).strip("-")
    return f", such as {near}" if near and complaint(near) is None else ""


def unfit(paths: Iterable[str]) -> Iterator[tuple[str, str, str]]:
    """Each path of the site that some system cannot keep, or that two files would share; what, and the mend."""
    seen: dict[str, str] = {}
    for path in paths:
        alike = unicodedata.normalize("NFC", path).casefold()
        if alike in seen:
            yield path, f"“{seen[alike]}” has the same name, so that one would stand in the other's place.", "Rename one."
        seen[alike] = path
        for part in path.split("/"):
            if _UNFIT.search(part) or part.partition(".")[0].lower() in DEVICES:
                yield path, f"“{part}” cannot be the name of a file on every system.", "Use letters, figures and dashes."
